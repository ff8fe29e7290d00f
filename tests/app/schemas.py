"""Every document in JSON keeps to its schema in docs/schemas, which a general validator compares.

schemas.py PROGRAM RECORDINGS SCENARIOS SCHEMAS FOLDER; 77 = python3-jsonschema is not here.
"""
import json
import os
import re
import shutil
import subprocess
import sys

try:
    import jsonschema
except ImportError:
    print("skipped: no python3-jsonschema")
    sys.exit(77)

RIDERS = {"classroom": "Katja", "clubhill": "Asta", "galecombe": "Doke", "headwind": "Rune", "larkmoor": "Anouk", "longmountain": "Tjark"}

# Somebody who stops, somebody left behind who never comes, and a time limit.
LATE = """title: Late
start: 2027-05-16 09:00
road:
  start_elevation_m: 0
  stretches: [{length_m: 1500, grade_percent: 5, heading_deg: 0}, {length_m: 1500, grade_percent: 12, heading_deg: 90}]
  landmarks: [{at_m: 700, name: Well}, {at_m: 1500, name: Gate}]
riders: [{name: Una, critical_power_W: 260}, {name: Ulf, critical_power_W: 90}, {name: Uwe, critical_power_W: 200}]
ride: {kind: steady, regroup_at: [Gate], stops: [{at: Well, stop_min: 0.5, for: water}], time_limit_s: 900}
behaviour: {regroup_wait_s: 60}
"""
# Two riders of a club, under way.
NOW = """title: Under way
start: 2027-05-16 09:00
road:
  start_elevation_m: 0
  stretches: [{length_m: 1500, grade_percent: 1, heading_deg: 0}, {length_m: 1500, grade_percent: 6}]
  landmarks: [{at_m: 1500, name: Foot}]
riders: [{name: Una, critical_power_W: 300}, {name: Ulf, critical_power_W: 240}]
"""
STATE = "time: 09:04\nriders: [{name: Una, at: 1.2 km, wprime_percent: 60}, {name: Ulf, at: 1 km}]\n"


def commands(scenarios):
    """What is asked: the schema, the arguments, and where the document is if not on standard output."""
    for story, rider_name in RIDERS.items():
        at = f"{scenarios}/{story}/scenario.yaml"
        rider = ["--rider", rider_name]
        yield "check", ["check", at]
        yield "summary", ["ride", at, "-o", "ride", "--step", "0.25"]
        yield "wind", ["wind", at, "-o", "wind"]
        yield "shelter", ["shelter", at, *rider]
        yield "spread", ["spread", at, "--runs", "2", "-o", "spread"]
        yield "sheet", ["sheet", at, "--days", "10", "-o", "sheet.html"]
        yield "road", ["road", f"{scenarios}/{story}/road.yaml"]
        if story in ("classroom", "headwind"):  # these take longer
            yield "weigh", ["weigh", at, "--runs", "2"]
            yield "weigh", ["weigh", at, "--runs", "2", *rider]
            yield "pace", ["pace", at, *rider]
            yield "notes", ["notes", at]
    larkmoor = f"{scenarios}/larkmoor/scenario.yaml"
    yield "summary", ["ride", "late.yaml", "-o", "ride", "--one"]
    yield "spread", ["spread", "late.yaml", "--runs", "3", "-o", "spread"]
    yield "sheet", ["sheet", "late.yaml", "--days", "2", "-o", "sheet.html"]
    yield "pace", ["pace", "late.yaml", "--rider", "Ulf"]
    yield "spread", ["spread", larkmoor, "--runs", "60", "-o", "spread"]
    yield "lineup", ["lineup", larkmoor, "--days", "4"]
    yield "lineup", ["lineup", "late.yaml", "--days", "4"]
    yield "lineup", ["lineup", "now.yaml", "--days", "4", "--now", "state.yaml"]
    yield "lineup_into", ["lineup", f"{scenarios}/clubhill/scenario.yaml", "--into", "2", "--days", "4"]
    yield "notes", ["notes", "--road", f"{scenarios}/larkmoor/road.yaml", "--times", "45:00,1:00:00"]
    yield "club", ["club", f"{scenarios}/club.yaml"]
    yield "new", ["new", f"{scenarios}/larkmoor/road.yaml", "-o", "new", "--force"]
    yield "new", ["new", "recorded/Cato.gpx", "-o", "new", "--force"]
    yield "road", ["road", "recorded/Cato.gpx"]
    yield "debrief", ["debrief", "--recorded", "Cato=recorded/Cato.gpx", "-o", "debrief"]
    yield "debrief", ["debrief", larkmoor, "--recorded", "Cato=recorded/Cato.gpx", "--recorded", "Elin=recorded/Elin.gpx", "-o", "debrief"]
    yield "debrief", ["debrief", larkmoor, "--recorded", "Cato=recorded/bare.gpx", "--recorded", "Elin=recorded/Elin.gpx",
                      "--all-out", "Elin:0-2500", "-o", "debrief"]
    yield "club", ["club", f"{scenarios}/club.yaml", "--learned", "debrief/learned.yaml"]
    yield "fields", ["fields"]
    yield "evidence", ["evidence"]
    yield "evidence_fit", ["evidence", "--fit"]


def write_inputs():
    """Beside the recordings of larkmoor: scenarios of our own, and a recording that knows no power."""
    for name, text in {"late.yaml": LATE, "now.yaml": NOW, "state.yaml": STATE}.items():
        with open(name, "w") as file:
            file.write(text)
    with open("recorded/Cato.gpx") as whole, open("recorded/bare.gpx", "w") as bare:
        bare.write(re.sub(r"<extensions>.*?</extensions>", "", whole.read(), flags=re.S))


# A number says its unit at the end of its name, or of the name of what holds it; otherwise its schema says what it is.
UNIT = re.compile(r"_(s|m|W|kJ|J|mps|deg|C|kg|m2|N|kgpm3|percent|share|s_per_km|m_an_hour)$")


def numbers_say_their_unit(schema, names, told):
    if isinstance(schema, list):
        for part in schema:
            numbers_say_their_unit(part, names, told)
    if not isinstance(schema, dict):
        return
    if "number" in schema.get("type", []) and not told and "description" not in schema:
        assert any(UNIT.search(name) for name in names), f"{names}: no unit"
    if schema.get("type") == "object" and "properties" in schema:
        assert schema["additionalProperties"] is False and set(schema["required"]) <= set(schema["properties"]), names
    told = told or ("description" in schema and "properties" not in schema)
    for key, part in schema.items():
        if key == "properties":
            for name, inner in part.items():
                numbers_say_their_unit(inner, names + [name], told)
        elif key != "$defs":
            numbers_say_their_unit(part, names, told)


def read_schemas(folder):
    """The schemas by name. Whole numbers are whole as they are written, not only as they count."""
    draft = jsonschema.Draft202012Validator
    whole = draft.TYPE_CHECKER.redefine("integer", lambda _, value: type(value) is int)
    strict = jsonschema.validators.extend(draft, type_checker=whole)
    found = {}
    for file in sorted(os.listdir(folder)):
        with open(f"{folder}/{file}") as text:
            schema = json.load(text)
        draft.check_schema(schema)
        numbers_say_their_unit(schema, [], False)
        for name, part in schema.get("$defs", {}).items():
            numbers_say_their_unit(part, [name], "description" in part)
        found[file.removesuffix(".schema.json")] = strict(schema)
    return found


def faults_of(validator, document):
    faults = sorted(validator.iter_errors(document), key=str)
    return [f"{'/'.join(map(str, fault.absolute_path))}: {fault.message[:200]}" for fault in faults[:5]]


def bites(validator, document):
    """A schema that takes a document must refuse it with a key too many and with any of its keys gone."""
    assert list(validator.iter_errors({**document, "besides": 1})), "takes a key that nobody knows"
    for key in validator.schema["required"]:
        less = {name: value for name, value in document.items() if name != key}
        assert list(validator.iter_errors(less)), f"does without {key}"


def main(program, recordings, scenarios, folder_of_schemas, folder):
    validators = read_schemas(folder_of_schemas)
    shutil.rmtree(folder, ignore_errors=True)
    os.makedirs(folder)
    os.chdir(folder)
    subprocess.run([recordings, f"{scenarios}/larkmoor/scenario.yaml", "recorded"], check=True, stdout=subprocess.DEVNULL)
    write_inputs()
    seen, wrong = set(), []
    for name, arguments in commands(scenarios):
        asked = subprocess.run([program, *arguments, "--json"], capture_output=True, text=True)
        if asked.returncode not in (0, 1):
            sys.exit(f"{arguments}: {asked.returncode}\n{asked.stderr}")
        document = json.loads(asked.stdout)
        wrong += [f"{name}: {' '.join(arguments)}: {fault}" for fault in faults_of(validators[name], document)]
        if name not in seen and not wrong:
            bites(validators[name], document)
        seen.add(name)
    with open("spread/spread_runs.ndjson") as lines:
        for line in lines:
            wrong += ["spread_runs: " + fault for fault in faults_of(validators["spread_runs"], json.loads(line))]
    assert not wrong, "\n".join(wrong)
    left = set(validators) - seen - {"spread_runs"}
    assert not left, f"schemas that no command keeps: {left}"
    print(f"{len(seen) + 1} layouts keep to their schema")


if __name__ == "__main__":
    main(*sys.argv[1:])
