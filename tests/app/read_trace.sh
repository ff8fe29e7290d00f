#!/bin/sh
# read_trace.sh PROGRAM FOLDER SCENARIO: rides, then reads the trace with h5py alone. 77 = neither Python nor h5py here.
set -eu
/usr/bin/python3 -c 'import h5py' 2>/dev/null || { echo "skipped: no /usr/bin/python3 with h5py"; exit 77; }
"$1" ride "$3" -o "$2" --quiet
exec /usr/bin/python3 "$(dirname "$0")/read_trace.py" "$2/trace.h5"
