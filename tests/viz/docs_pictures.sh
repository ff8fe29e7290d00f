#!/bin/sh
# Remakes the viewer's pictures in the docs from a shipped scenario, and from the same ridden together for the comparison.
# docs_pictures.sh LEEWHEEL LEEWHEEL_VIEW SCENARIOS PICTURES, itself run on a display
set -e
ride=$1 view=$2 scenarios=$3 pictures=$4
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
"$(dirname "$0")/docs_rides.sh" "$ride" "$scenarios" "$work" >"$pictures/viewer.txt"
"$view" "$work/steady/trace.h5" --rider Cato --snapshot 6:00 "$pictures/viewer_dark.png"
"$view" "$work/steady/trace.h5" --rider Elin --size 1920x1080 --light --snapshot 42:00 "$pictures/viewer_light.png"
"$view" "$work/steady/trace.h5" --rider Cato --size 1920x1080 --show --snapshot 6:00 "$pictures/viewer_show.png"
"$view" "$work/steady/trace.h5" --rider Elin --ghost "$work/together/trace.h5" --ghost-by place --snapshot 15:00 "$pictures/viewer_compare.png"
