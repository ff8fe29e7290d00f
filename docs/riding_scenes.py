"""Small invented scenarios, ridden by `leewheel ride`, and their traces; for the pictures and tables of docs/riding.md."""
import json
import pathlib
import subprocess
import tempfile
from types import SimpleNamespace

import h5py
import numpy as np

PLAN_W, W_PRIME_J = 0.85 * 250, 20000  # of a rider for whom a scenario names no strength


def road(*pieces: tuple, **more) -> dict:
    """Pieces of road northward, (length in m, grade in %), between open slopes."""
    stretches = [{"length_m": length, "grade_percent": grade} for length, grade in pieces]
    stretches[0] |= {"heading_deg": 0, "exposure": "open_slope", "width_m": 6.5} | more
    return {"start_elevation_m": 200, "stretches": stretches}


def equals(count: int) -> list[dict]:
    return [{"name": f"Rider {k + 1}"} for k in range(count)]


def wind(speed_mps: float, from_deg: float) -> dict:
    return {"forecast": [{"time_min": 0, "speed_mps": speed_mps, "from_deg": from_deg}]}


def ride(on: dict, riders: list[dict], kind: str, **more) -> SimpleNamespace:
    """The trace of a ride: its columns by name, one row a half second, and `doing`, the words of `role`."""
    scenario = {"title": "Invented", "road": on, "riders": riders, "ride": {"kind": kind, "record_interval_s": 0.5}} | more
    with tempfile.TemporaryDirectory() as folder:
        file = pathlib.Path(folder) / "scenario.yaml"
        file.write_text(json.dumps(scenario))
        subprocess.run(["leewheel", "ride", file, "-o", folder, "--quiet"], check=True)
        with h5py.File(pathlib.Path(folder) / "trace.h5") as trace:
            columns = {name: table[()] for name, table in trace["riders"].items() if isinstance(table, h5py.Dataset)}
            words = np.array(trace["riders/role"].attrs["names"].decode().split(","))
            return SimpleNamespace(**columns, time_s=trace["time_s"][()], doing=words[columns["role"].astype(int)],
                                   elevation_m=trace["road/elevation_m"][()], spacing_m=float(trace["road"].attrs["spacing_m"]))


def spells(true: np.ndarray) -> list[tuple[int, int]]:
    """First index and index after the last of each run of true values."""
    edges = np.flatnonzero(np.diff(np.concatenate([[0], true.astype(int), [0]])))
    return list(zip(edges[::2], edges[1::2]))
