#!/bin/sh
# The rides that the pictures in README and docs show, and a few lines that tell them apart from any other ride: how many events, who
# is home when. Pictures made of another ride are stale: `cmake --build build --target viewer_pictures` remakes both.
# docs_rides.sh LEEWHEEL SCENARIOS FOLDER             rides into FOLDER/steady and FOLDER/together and prints the lines
# docs_rides.sh LEEWHEEL SCENARIOS FOLDER LINES.txt   the same, and fails if they are not those of the file
set -e
ride=$1 scenarios=$2 folder=$3 expected=$4
cp -r "$scenarios" "$folder/scenarios"
"$ride" ride "$folder/scenarios/larkmoor/scenario.yaml" -o "$folder/steady" --quiet
sed -i 's/^  kind: steady/  kind: together/' "$folder/scenarios/larkmoor/scenario.yaml"
"$ride" ride "$folder/scenarios/larkmoor/scenario.yaml" -o "$folder/together" --quiet
lines() {
  for kind in steady together; do
    echo "larkmoor, $kind: $(($(wc -l <"$folder/$kind/events.csv") - 1)) events"
    grep ',finished,' "$folder/$kind/events.csv" | cut -d, -f1,5 | tr ',' ' ' | sed 's/^/  home at s: /'
  done
}
if [ -z "$expected" ]; then lines; exit; fi
lines >"$folder/lines.txt"
diff "$expected" "$folder/lines.txt" || { echo "The pictures of the replay show another ride: remake them with the target viewer_pictures."; exit 1; }
