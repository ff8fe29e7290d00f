#!/usr/bin/env python3
"""The plan of `leewheel lineup` beside the plan clubs ride, for every aim: docs/lineup_table.py [SCENARIO ...] on the shipped scenarios,
docs/lineup_table.py --tracks FOLDER [TRACK ...] on recorded tracks (.gpx) of that folder, with eight riders of the shipped kinds."""
import json
import pathlib
import subprocess
import sys
import tempfile

SHIPPED = ["larkmoor", "headwind", "clubhill", "galecombe", "longmountain"]
HERE = pathlib.Path(__file__).resolve().parent
CLUB = """title: {name}
road: {{file: road.yaml}}
wind: {{from: WSW, speed_kmh: 25}}
archetypes: {{file: {archetypes}}}
riders:
  - {{name: Ada, archetype: steady}}
  - {{name: Ben, archetype: heavy_strong}}
  - {{name: Cleo, archetype: light_climber}}
  - {{name: Dario, archetype: steady, critical_power_W: 250, body_mass_kg: 78}}
  - {{name: Edda, archetype: beginner}}
  - {{name: Falk, archetype: steady, critical_power_W: 235, body_mass_kg: 83}}
  - {{name: Gesa, archetype: beginner, critical_power_W: 200, body_mass_kg: 61}}
  - {{name: Hugo, archetype: heavy_strong, critical_power_W: 265}}
ride: {{kind: steady}}
"""


def clock(seconds: float) -> str:
    s = round(seconds)
    return f"{s // 3600}:{s // 60 % 60:02}:{s % 60:02}" if s >= 3600 else f"{s // 60}:{s % 60:02}"


def figures(plan: dict) -> str:
    return f"{clock(plan['last_s']):>8}{100 * plan['weakest_effort_share']:6.0f} %{plan['held_back_s'] / 60:7.0f}{clock(plan['longest_wait_s']):>8}"


def beside(answer: dict, aim: str) -> str:
    duel = answer["against_clubs"]
    if answer["plan"]["name"] == answer["clubs"]["name"]:
        return "the plan clubs ride"
    if not duel["wins"]:
        return "as good"
    gain = clock(duel["gain"]) if aim == "time" else f"{100 * duel['gain']:.1f} %"
    return f"{gain} on {duel['days_better']} of {answer['plan']['days']} days"


def rows(name: str, scenario: pathlib.Path) -> None:
    for aim in ("time", "weakest", "fair"):
        run = subprocess.run(["leewheel", "lineup", scenario, "--for", aim, "--json"], capture_output=True, text=True)
        if run.returncode not in (0, 1):
            sys.exit(run.stderr)
        answer = json.loads(run.stdout)
        if not answer["found"]:
            print(f"{name:18}{aim:9}no plan brings everyone to the finish")
            continue
        limits = "" if answer["within_limits"] else ", beyond the limits"
        print(f"{name:18}{aim:9}{figures(answer['clubs'])}{figures(answer['plan'])}  {answer['plan']['label']}: {beside(answer, aim)}{limits}", flush=True)


def scenario_on(track: pathlib.Path, folder: str) -> pathlib.Path:
    run = subprocess.run(["leewheel", "road", track, "--bridge-gaps", "--quiet", "-o", f"{folder}/road.yaml"], capture_output=True, text=True)
    if run.returncode != 0:
        sys.exit(run.stderr)
    scenario = pathlib.Path(folder) / "scenario.yaml"
    scenario.write_text(CLUB.format(name=track.stem, archetypes=HERE.parent / "scenarios/archetypes.yaml"))
    return scenario


print(f"{'':27}{'as clubs ride':>16}{'':15}{'chosen':>15}\n{'':18}{'for':9}" + 2 * f"{'last':>8}{'weakest':>8}{'later':>7}{'wait':>8}" + "  the chosen plan and what it gains")
asked = sys.argv[1:]
if asked[:1] == ["--tracks"]:
    folder = pathlib.Path(asked[1])
    for track in [folder / name for name in asked[2:]] or sorted(folder.glob("*.gpx")):
        with tempfile.TemporaryDirectory() as made:
            rows(track.stem, scenario_on(track, made))
else:
    for name in asked or SHIPPED:
        rows(name, HERE.parent / f"scenarios/{name}/scenario.yaml")
