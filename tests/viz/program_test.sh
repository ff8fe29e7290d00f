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

refuses "no X display answers" "$ride"
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
"$view" "$ride" --snapshot 10 "$work/no/such/folder/x.png" 2>"$work/err"
[ $? -eq 2 ] || fail "a picture that cannot be written is not an error"
exit $failed
