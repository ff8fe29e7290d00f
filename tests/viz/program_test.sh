#!/bin/sh
# The program as a person meets it: every key, pictures without a window, and one clear line for every wrong call.
# program_test.sh LEEWHEEL_VIEW WRITE_SYNTHETIC, itself run on a display
view=$1 write=$2
work=$(mktemp -d)
trap 'rm -rf "$work"' EXIT
failed=0
fail() { echo "FAILED: $1"; failed=1; }

# refuses WORDS ARGUMENTS...: exit code 2, exactly one line, containing WORDS, and no picture left behind
refuses() {
  words=$1; shift
  env -u DISPLAY "$view" "$@" >"$work/out" 2>"$work/err"
  [ $? -eq 2 ] || fail "exit code of: $*"
  [ "$(wc -l <"$work/err")" -eq 1 ] || fail "not one line for: $*: $(cat "$work/err")"
  grep -qF -- "$words" "$work/err" || fail "expected '$words' for: $*, found: $(cat "$work/err")"
  [ -e "$work/x.png" ] && fail "left a picture: $*"
}

ride=$work/ride.h5
"$write" "$ride" 6 300 3000 || fail "no trace written"
echo "title: not a trace" >"$work/text.h5"
head -c 20000 "$ride" >"$work/torn.h5"
: >"$work/empty.h5"

refuses "no X display" "$ride"
refuses "xvfb-run" "$ride" --snapshot 10 "$work/x.png"
refuses "TRACE is required"
refuses "not found" "$work/none.h5"
refuses "not an HDF5 file" "$work/text.h5"
refuses "torn.h5" "$work/torn.h5"
refuses "empty.h5" "$work/empty.h5"
refuses "is not a file" "$work"
refuses 'found "1:75"' "$ride" --snapshot 1:75 "$work/x.png"
refuses "ends at 0:05:00" "$ride" --snapshot 1:00:00 "$work/x.png"
refuses "TIME FILE" "$ride" --snapshot 10
refuses "--size" "$ride" --size 12x
refuses "--speed" "$ride" --speed 3
refuses "--scale" "$ride" --scale 9
refuses "--rider" "$ride" --rider Nobody
refuses "an end after the beginning" "$ride" --film 20 10 "$work/film"
refuses "none.h5" "$ride" --ghost "$work/none.h5"
"$write" "$work/elsewhere.h5" 6 300 3200 || fail "no second trace written"
refuses "expected 3.00 km; two rides are compared on the same road" "$ride" --ghost "$work/elsewhere.h5"
refuses "ending in .png" "$ride" --snapshot 10 "$work/x.jpg"
[ -e "$work/x.jpg" ] && fail "wrote a picture under a wrong ending"
refuses "ending in .mp4 or .webm" "$ride" --film 10 11 "$work/film.gif"
refuses "--colour" "$ride" --colour red

"$view" "$ride" --press-everything >"$work/out" 2>"$work/err" || fail "a key ended the program: $(cat "$work/err")"
grep -q "times pressed" "$work/out" || fail "keys were not pressed"
"$view" "$ride" --ghost "$ride" --press-everything >/dev/null 2>&1 || fail "a key ended the program beside a second ride"
"$view" "$ride" --snapshot 0:30 "$work/a.png" --snapshot 1:00 "$work/b.png" --light --imperial 2>/dev/null || fail "no snapshots"
[ -s "$work/a.png" ] && [ -s "$work/b.png" ] || fail "a snapshot is missing"
cmp -s "$work/a.png" "$work/b.png" && fail "two moments look the same"
"$view" "$ride" --snapshot 0:30 "$work/c.png" --light --imperial 2>/dev/null
cmp -s "$work/a.png" "$work/c.png" || fail "one moment drawn twice differs"
"$view" "$ride" --film 10 11 "$work/film" --size 640x480 >/dev/null 2>&1 || fail "no film"
[ -s "$work/film/00000.png" ] && [ -s "$work/film/00003.png" ] || fail "a picture of the film is missing"
[ -e "$work/film/00004.png" ] && fail "a film of a second holds too many pictures"
"$view" "$ride" --show --snapshot 0:30 "$work/show.png" 2>/dev/null && [ -s "$work/show.png" ] || fail "no picture for a room"
cmp -s "$work/a.png" "$work/show.png" && fail "--show changes nothing"
PATH=/nonexistent "$view" "$ride" --film 10 11 "$work/none.mp4" --size 640x480 >/dev/null 2>"$work/err"
[ $? -eq 2 ] && grep -q "needs ffmpeg" "$work/err" && [ "$(grep -vc "vertical sync" "$work/err")" -eq 1 ] || fail "a film without ffmpeg: $(cat "$work/err")"
[ -e "$work/none.mp4" ] && fail "left a film without ffmpeg"
if command -v ffmpeg >/dev/null; then
  "$view" "$ride" --film 10 11 "$work/film.mp4" --size 641x481 >/dev/null 2>&1 && [ -s "$work/film.mp4" ] || fail "no film by ffmpeg"
  [ -e "$work/film.part.mp4" ] && fail "left an unfinished film"
  "$view" "$ride" --film 10 11 "$work/no/such/folder.mp4" >/dev/null 2>"$work/err"
  [ $? -eq 2 ] || fail "a film that cannot be written is not an error"
fi
for small in "--size 640x480" "--size 1280x720 --scale 1.6" "--size 640x480 --scale 4"; do
  "$view" "$ride" --snapshot 0:30 "$work/small.png" $small 2>/dev/null && [ -s "$work/small.png" ] || fail "no picture at $small"
done

HOME=/nonexistent XDG_DATA_HOME= XDG_DATA_DIRS=/nonexistent "$view" "$ride" --snapshot 10 "$work/x.png" >/dev/null 2>"$work/err"
[ $? -eq 2 ] && grep -q "^leewheel-view: fonts: found none in .*fonts-dejavu-core" "$work/err" || fail "no fonts: $(cat "$work/err")"
[ -e "$work/x.png" ] && fail "a picture without fonts"

# A display that goes away under the window: the program ends at once and says why.
Xvfb -displayfd 3 -screen 0 1280x800x24 -nolisten tcp -noreset 3>"$work/number" 2>/dev/null &
server=$!
tries=0
while [ ! -s "$work/number" ] && [ $tries -lt 200 ]; do tries=$((tries + 1)); sleep 0.05; done
DISPLAY=:$(cat "$work/number") timeout -k 1 30 "$view" "$ride" --no-state 2>"$work/err" &
watching=$!
sleep 2
kill -9 $server
wait $watching
code=$?
[ $code -eq 3 ] || fail "exit code $code after the display went away, expected 3"
grep -q "the X display went away" "$work/err" || fail "nothing said about the display: $(cat "$work/err")"

"$view" "$ride" --snapshot 10 "$work/no/such/folder/x.png" 2>"$work/err"
[ $? -eq 2 ] || fail "a picture that cannot be written is not an error"
exit $failed
