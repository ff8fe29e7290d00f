"""What the page shows at a moment is what the trace of the same ride holds: page_agrees.py SAID TRACE TIME_S"""
import json
import sys

import h5py

said = [line for line in open(sys.argv[1], encoding="utf-8") if line.startswith("numbers ")][0]
shown = {row[0]: row[1:] for row in json.loads(said[8:])}
with h5py.File(sys.argv[2], "r") as trace:
    k = int(abs(trace["time_s"][:] - float(sys.argv[3])).argmin())
    assert trace["time_s"][k] == float(sys.argv[3])
    names = [name.decode() for name in trace["riders/names"][:]]
    assert sorted(names) == sorted(shown), names
    for i, name in enumerate(names):
        place_m, power_W, saved_W, wbal_share, group = shown[name]
        at = {column: trace["riders/" + column][k, i] for column in ("distance_m", "power_W", "alone_power_W", "group_id")}
        assert abs(place_m - at["distance_m"]) <= 0.011, (name, place_m, at)
        assert abs(power_W - at["power_W"]) <= 0.06, (name, power_W, at)
        assert abs(saved_W - (at["alone_power_W"] - at["power_W"])) <= 0.06, (name, saved_W, at)
        assert group == at["group_id"], (name, group, at)
print(len(names), "riders agree")
