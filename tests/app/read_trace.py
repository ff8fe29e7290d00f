"""Reads a trace with h5py alone: everything documented is there, described, and agrees with itself."""
import sys

import h5py

COLUMNS = """distance_m lateral_m speed_mps power_W alone_power_W drag_factor side_force_N wbal_J group_id role wheel_of gap_m
wind_along_mps wind_cross_mps drag_area_m2 saved_J pedal_J gravity_W air_W rolling_W kinetic_W heart_rate_share""".split()
WHOLE = {"group_id", "role", "wheel_of"}

with h5py.File(sys.argv[1], "r") as trace:
    assert trace.attrs["layout_version"] == 2, "another layout"
    assert trace.attrs["complete"] == 1, "a finished ride says so"
    assert b"riders:" in trace["scenario_text"][0], "the scenario stands inside"

    time_s = trace["time_s"][:]
    names = [name.decode() for name in trace["riders/names"][:]]
    assert names[0] == "Anouk" and len(names) == 6, names
    assert len(time_s) > 100 and (time_s[1:] > time_s[:-1]).all(), "time runs on"
    assert abs(time_s[100] - 100 * trace.attrs["sample_interval_s"]) < 1e-9, "samples are evenly spaced"

    for column in COLUMNS:
        table = trace["riders/" + column]
        assert table.shape == (len(time_s), len(names)), (column, table.shape)
        assert table.dtype == ("<i4" if column in WHOLE else "<f4"), (column, table.dtype)
        assert [list(along.values()) for along in table.dims] == [[trace["time_s"]], [trace["riders/names"]]], column
        assert [along.label for along in table.dims] == ["time_s", "rider"], column
        assert table.compression == "gzip" and table.shuffle, column
        assert table.attrs["unit"] and table.attrs["meaning"], column
        assert (table[:] == table[:]).all(), column + " holds NaN"

    distance_m = trace["riders/distance_m"][:]
    assert (distance_m[1:] - distance_m[:-1] >= -1e-3).all(), "nobody rolls backwards"

    def described(name, item):
        if isinstance(item, h5py.Dataset) and item.dtype.kind != "S":
            assert item.attrs["unit"] and item.attrs["meaning"], name + " says neither unit nor meaning"

    trace.visititems(described)
    at_m = trace["road/elevation_m"].dims[0]["distance_m"][:]
    assert at_m[0] == 0 and abs(at_m[-1] - (len(at_m) - 1) * trace["road"].attrs["spacing_m"]) < 1e-6, "along the road"
    assert list(trace["events/cause"].dims[0].values()) == [trace["events/time_s"]], "events lie along their times"
    assert list(trace["riders/settings/body_mass_kg"].dims[0].values()) == [trace["riders/names"]], "settings lie along riders"
    assert len(trace["events/kind"]) == len(trace["events/cause"]) == len(trace["events/riders"]) > 0
print(f"{len(time_s)} samples of {len(names)} riders read")
