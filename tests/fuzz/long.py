#!/usr/bin/env python3
"""Runs each fuzz target for a while from the kept corpus and tells what came of it.

    long.py BUILD CORPUS SOURCES [NAME...]

BUILD is a build by the preset `fuzz`, SOURCES the checkout. FUZZ_SECONDS: how long each target runs (60). What a run finds new
is kept in BUILD/grown/NAME; an input that breaks something in BUILD/broken/NAME-...; exit code 1 when there is one.
"""

import os
import re
import subprocess
import sys
from pathlib import Path

READERS = ["sim/io", "sim/evidence/row_reader.cpp", "sim/evidence/given.cpp"]
# Longest input in bytes, most seconds for one, and whether the sanitizers look for what was not given back: HDF5 keeps its own.
LIMITS = {"ride": (1024, 60), "trace": (256, 20), "track": (16384, 20)}
USUAL = (8192, 20)


def run(build: Path, corpus: Path, name: str, seconds: int) -> tuple[int, str]:
    grown, broken, profiles = build / "grown" / name, build / "broken", build / "profiles"
    for folder in (grown, broken, profiles):
        folder.mkdir(parents=True, exist_ok=True)
    longest, most_s = LIMITS.get(name, USUAL)
    words = corpus.parent / "words" / name
    command = [build / "tests/fuzz" / f"leewheel_fuzz_{name}", grown, corpus / name, f"-max_total_time={seconds}",
               f"-max_len={longest}", f"-timeout={most_s}", "-rss_limit_mb=4096", "-print_final_stats=1",
               f"-artifact_prefix={broken}/{name}-"]
    if words.exists():
        command.append(f"-dict={words}")
    environment = os.environ | {"LLVM_PROFILE_FILE": str(profiles / f"{name}.profraw")}
    with open(build / f"fuzz_{name}.log", "w") as log:
        code = subprocess.run(list(map(str, command)), env=environment, stdout=log, stderr=log).returncode
    return code, (build / f"fuzz_{name}.log").read_text(errors="replace")


def number(text: str, pattern: str) -> int:
    found = re.findall(pattern, text)
    return int(found[-1]) if found else 0


def coverage(build: Path, sources: Path, names: list[str]) -> str:
    """Lines of the readers that the targets have run, of all."""
    raw = [p for name in names if (p := build / "profiles" / f"{name}.profraw").exists()]
    merged = build / "profiles" / "all.profdata"
    try:
        subprocess.run(["llvm-profdata", "merge", "-sparse", "-o", merged, *raw], check=True, capture_output=True)
        objects = [build / "tests/fuzz" / f"leewheel_fuzz_{name}" for name in names]
        rest = [argument for one in objects[1:] for argument in ("-object", one)]
        report = subprocess.run(["llvm-cov", "report", objects[0], *rest, f"-instr-profile={merged}",
                                 *[sources / reader for reader in READERS]], check=True, capture_output=True, text=True).stdout
    except (OSError, subprocess.CalledProcessError) as error:
        return f"no coverage: {error}"
    (build / "fuzz_coverage.txt").write_text(report)
    total = next(line for line in report.splitlines() if line.startswith("TOTAL")).split()
    return f"readers: {total[9]} of {total[7]} lines run; by file in {build / 'fuzz_coverage.txt'}"


def main() -> int:
    build, corpus, sources = (Path(a) for a in sys.argv[1:4])
    names = sys.argv[4:] or sorted(p.name for p in corpus.iterdir() if p.is_dir())
    seconds, failed = int(os.environ.get("FUZZ_SECONDS", "60")), 0
    print(f"{'target':10}{'executions':>12}{'a second':>10}{'accepted':>10}  outcome", flush=True)
    for name in names:
        code, log = run(build, corpus, name, seconds)
        executions = number(log, r"stat::number_of_executed_units:\s*(\d+)")
        inputs, accepted = number(log, r"inputs (\d+) accepted"), number(log, r"inputs \d+ accepted (\d+)")
        share = f"{100 * accepted / inputs:.0f} %" if inputs else "-"
        outcome = "whole" if code == 0 else f"broken: see {build / f'fuzz_{name}.log'}"
        print(f"{name:10}{executions:12d}{executions // max(1, seconds):10d}{share:>10}  {outcome}", flush=True)
        failed += code != 0
    print(coverage(build, sources, names))
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
