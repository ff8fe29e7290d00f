#!/bin/sh
# The notes of every shipped scenario printed by a real browser are one page of A4: notes_on_paper.sh PROGRAM FOLDER SCENARIOS.
# Skipped (77) where there is no Chromium or no pdfinfo.
set -eu
program=$1 folder=$2 scenarios=$3
command -v chromium >/dev/null && command -v pdfinfo >/dev/null || { echo "no chromium or no pdfinfo here"; exit 77; }
rm -rf "$folder"
mkdir -p "$folder"
wrong=0
for scenario in "$scenarios"/*/scenario.yaml; do
  "$program" notes "$scenario" --quiet -o "$folder/notes.html"
  chromium --headless --no-sandbox --disable-gpu "--user-data-dir=$folder/profile" "--host-resolver-rules=MAP * ~NOTFOUND" \
    --no-pdf-header-footer "--print-to-pdf=$folder/notes.pdf" "file://$folder/notes.html" >/dev/null 2>&1
  pages=$(pdfinfo "$folder/notes.pdf" | awk '/^Pages:/ { print $2 }')
  echo "$scenario: $pages"
  [ "$pages" = 1 ] || wrong=1
done
exit $wrong
