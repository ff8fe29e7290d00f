"""The lines of docs/reading.md, run as they stand there, give what the ride says. 77 = a package is not here.

reading.py PROGRAM SCENARIO PAGE FOLDER; with R and its packages the lines in R are run as well.
"""
import importlib.util
import json
import os
import re
import subprocess
import sys

LANGUAGE = re.compile(r"```(python|r)\n(.*?)```", re.S)


def in_python(lines):
    found = {}
    exec(lines, found)
    return found.get("saved_kJ")


def in_r(lines):
    """The result as R prints it: the name, a tab, the number."""
    told = lines + 'cat(paste0(names(saved_kJ), "\\t", format(saved_kJ, digits = 9, trim = TRUE), "\\n"), sep = "")\n'
    said = subprocess.run(["Rscript", "-e", told], check=True, capture_output=True, text=True).stdout
    return {name: float(number) for name, number in (line.split("\t") for line in said.splitlines())}


def has_r():
    asked = 'quit(status = !all(c("rhdf5", "jsonlite") %in% rownames(installed.packages())))'
    try:
        return subprocess.run(["Rscript", "-e", asked], capture_output=True).returncode == 0
    except FileNotFoundError:
        return False


def main(program, scenario, page, folder):
    missing = [name for name in ("h5py", "jsonschema") if not importlib.util.find_spec(name)]
    if missing:
        print("skipped: no", missing)
        sys.exit(77)
    subprocess.run([program, "ride", scenario, "-o", folder, "--one", "--quiet"], check=True)
    with open(page, encoding="utf-8") as file:
        examples = LANGUAGE.findall(file.read())
    schemas = os.path.join(os.path.dirname(page), "schemas")
    os.chdir(folder)
    with open("summary.json") as file:
        expected = {rider["name"]: rider["saved_kJ"] for rider in json.load(file)["riders"]}
    assert len(expected) == 6 and [language for language, _ in examples] == ["python", "r"] * 3 + ["python"]
    r_is_here = has_r()
    for language, lines in examples:
        assert len([line for line in lines.splitlines() if not line.startswith(("import", "library"))]) <= 3, lines
        if language == "r" and not r_is_here:
            continue
        lines = lines.replace("/usr/share/leewheel/schemas", schemas)
        saved_kJ = in_python(lines) if language == "python" else in_r(lines)
        if "jsonschema" in lines:
            continue  # it would have thrown
        assert saved_kJ.keys() == expected.keys(), (lines, saved_kJ)
        for name, value in saved_kJ.items():  # the trace holds single precision, the files two decimals
            assert abs(value - expected[name]) < 0.006, (lines, name, value, expected[name])
    print("read in Python" + (" and in R" if r_is_here else "; no R with rhdf5 and jsonlite here"))


if __name__ == "__main__":
    main(*sys.argv[1:])
