#!/bin/sh
# with_display.sh COMMAND...: runs it on a virtual display of its own and passes on its exit code. The server picks the
# number itself (-displayfd), so that runs side by side never meet; xvfb-run -a can lose that race.
number=$(mktemp)
trap 'rm -f "$number"' EXIT
Xvfb -displayfd 3 -screen 0 1920x1080x24 -nolisten tcp -noreset 3>"$number" 2>/dev/null &
server=$!
tries=0
while [ ! -s "$number" ]; do
  tries=$((tries + 1))
  [ $tries -gt 200 ] && { echo "with_display.sh: Xvfb does not start" >&2; kill $server 2>/dev/null; exit 99; }
  sleep 0.05
done
DISPLAY=:$(cat "$number") "$@"
code=$?
kill $server 2>/dev/null
wait $server 2>/dev/null
exit $code
