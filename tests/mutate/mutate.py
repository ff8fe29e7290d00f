#!/usr/bin/env python3
"""Breaks the simulator in a copy of the tree, one mutation at a time, and tells which of them no test notices.

Only the test programs of rules, phases and rides are run: the hashes of frozen rides and the stories would notice nearly
everything and explain nothing. See README.md beside this file."""

import argparse
import dataclasses
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import time

ROOT = pathlib.Path(__file__).resolve().parents[2]
LIST = pathlib.Path(__file__).with_name("mutations.txt")
PROGRAMS = {  # target: where it is built
    "leewheel_riding_tests": "tests/riding/leewheel_riding_tests",
    "leewheel_model_tests": "tests/model/leewheel_model_tests",
    "leewheel_ride_tests": "tests/ride/leewheel_ride_tests",
    "leewheel_plan_tests": "tests/plan/leewheel_plan_tests",
    "leewheel_words_tests": "tests/words/leewheel_words_tests",
}
BY_FOLDER = {  # what to run for a mutation there, the quicker first
    "sim/riding": ["leewheel_riding_tests", "leewheel_ride_tests"],
    "sim/model": ["leewheel_model_tests", "leewheel_ride_tests"],
    "include/leewheel": ["leewheel_model_tests", "leewheel_ride_tests"],
    "sim/ride": ["leewheel_ride_tests"],
    "sim/plan": ["leewheel_plan_tests"],
    "sim/words": ["leewheel_words_tests"],
}
BESIDE = {  # test files of the same idea, where the name of the mutated file does not say them
    "advance_wide": ["advance", "motion"], "posture": ["advance"], "follow": ["chase"], "group_days": ["group_choice"], "group_places": ["group_levers"], "group_plan": ["group_levers"],
    "group_tally": ["observers"], "ledger": ["debts"], "pacing_days": ["pacing_ride"], "pacing_search": ["pacing_ride"],
    "pacing_sections": ["pacing_ride"], "passages": ["timing_points"], "percentile": ["ensemble"], "ride_days": ["ensemble"],
    "ride_report_days": ["ride_report"], "ride_report_observers": ["observers"], "ride_short": ["ride_words"], "scenario": ["formation"], "start": ["start_line"], "turns": ["going_back"],
    "variance_shares": ["spread_summary"], "wake_superposed": ["wake_contract"], "weigh_ride": ["weigh", "weigh_worth"],
    "weigh_solo": ["weigh_worth"], "wind": ["gust", "hill", "wind_field"],
}


@dataclasses.dataclass(frozen=True)
class Mutation:
    name: str
    file: str
    text: str  # stands once in the file
    replacement: str
    breaks: str  # what goes wrong
    equivalent: str = ""  # why nothing does, of one that changes nothing


def read_list():
    """The rows of mutations.txt, whose head says how they are written."""
    mutations, file, change = [], "", re.compile("⟦(.*?)→(.*?)⟧", re.DOTALL)
    for line in LIST.read_text(encoding="utf-8").splitlines():
        if line.startswith("["):
            file = line.strip("[]")
        elif line.startswith("    equivalent: "):
            mutations[-1] = dataclasses.replace(mutations[-1], equivalent=line.split(": ", 1)[1])
        elif line and not line.startswith("#"):
            name, breaks, code = line.split(" | ", 2)
            code = code.replace("\\n", "\n")
            mutations.append(Mutation(name, file, change.sub(r"\1", code), change.sub(r"\2", code), breaks))
    return mutations


def tests_beside(mutation):
    """Names of the test files of the same idea, which are run first: most mutations end there."""
    stem = pathlib.PurePath(mutation.file).stem
    return [name + "_test" for name in [stem, *BESIDE.get(stem, [])]]


def programs_of(mutation):
    return next(programs for folder, programs in BY_FOLDER.items() if mutation.file.startswith(folder + "/"))


def copy_tree(to):
    """Files under version control; one that has not changed keeps its time, so that little is built again."""
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, check=True, capture_output=True).stdout
    kept = set()
    for name in filter(None, listed.decode().split("\0")):
        source, target = ROOT / name, to / name
        if not source.is_file():
            continue
        kept.add(target)
        if target.is_file() and target.read_bytes() == source.read_bytes():
            continue
        target.parent.mkdir(parents=True, exist_ok=True)
        shutil.copyfile(source, target)
    for stale in [path for path in to.rglob("*") if path.is_file() and path not in kept and to / "build" not in path.parents]:
        stale.unlink()


def build(folder, targets, jobs):
    return subprocess.run(["cmake", "--build", str(folder), "--target", *targets, "-j", str(jobs)],
                          capture_output=True, text=True)


def failed_test(output):
    """Name of the first test case that failed, from Catch's console report."""
    found = re.search(r"^-{40,}\n(.+?)\n-{40,}\n", output, re.MULTILINE | re.DOTALL)
    return " ".join(found.group(1).split()) if found else "(no name)"


def run(program, limit_s, files=()):
    """None when all tests pass, else what failed."""
    try:
        chosen = ["-#", ",".join(f"[#{name}]" for name in files)] if files else []
        done = subprocess.run([str(program), "--abort", *chosen], capture_output=True, text=True, timeout=limit_s, errors="replace")
    except subprocess.TimeoutExpired:
        return f"(no end within {limit_s:.0f} s)"
    return None if done.returncode == 0 else failed_test(done.stdout)


def judge(mutation, tree, out, args):
    path = tree / mutation.file
    whole = path.read_text()
    path.write_text(whole.replace(mutation.text, mutation.replacement))
    try:
        for program in programs_of(mutation):
            built = build(out, [program], args.jobs)
            if built.returncode != 0:
                return "does not build", next((line for line in built.stdout.splitlines() if "error:" in line), "")
            for files in (tests_beside(mutation), ()):
                failure = run(out / PROGRAMS[program], args.time_limit, files)
                if failure is not None:
                    return "killed", failure
    finally:
        path.write_text(whole)
    return ("equivalent", mutation.equivalent) if mutation.equivalent else ("survived", "")


def misfit(mutation):
    """Why it cannot be applied to the tree; empty if it can."""
    if not (ROOT / mutation.file).is_file():
        return f"{mutation.file} is not there"
    if mutation.text == mutation.replacement:
        return "it changes nothing"
    times = (ROOT / mutation.file).read_text().count(mutation.text)
    return "" if times == 1 else f"its text stands {times} times in {mutation.file}"


def check_list(mutations):
    faults = [f"{m.name}: {misfit(m)}" for m in mutations if misfit(m)]
    names = [mutation.name for mutation in mutations]
    return faults + [f"{name}: twice in the list" for name in sorted(set(names)) if names.count(name) > 1]


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--only", metavar="PATTERN", default="", help="mutations whose name, file or meaning matches")
    parser.add_argument("--work", type=pathlib.Path, default=pathlib.Path(tempfile.gettempdir()) / "leewheel-mutations",
                        help="folder of the copy and its build (kept: the next run builds little)")
    parser.add_argument("--build-type", default="Release", help="of CMake; Release is often known to ccache already")
    parser.add_argument("--jobs", type=int, default=2, help="compilers at a time")
    parser.add_argument("--time-limit", type=float, default=120.0, help="seconds a test program may take")
    parser.add_argument("--list", action="store_true", help="print the list and run nothing")
    parser.add_argument("--check", action="store_true", help="tell which mutations do not fit the tree, and build nothing")
    args = parser.parse_args()

    chosen = [m for m in read_list() if re.search(args.only, f"{m.name} {m.file} {m.breaks}")]
    faults = check_list(chosen)
    if faults:
        sys.exit("the list does not fit the tree:\n  " + "\n  ".join(faults))
    if args.check:
        print(f"all {len(chosen)} mutations fit the tree")
        return
    if args.list:
        for m in chosen:
            print(f"{m.name:34} {m.file:28} {m.breaks}")
        return

    tree = args.work / "tree"
    out = tree / "build"
    tree.mkdir(parents=True, exist_ok=True)
    copy_tree(tree)
    subprocess.run(["cmake", "-S", str(tree), "-B", str(out), "-G", "Ninja", f"-DCMAKE_BUILD_TYPE={args.build_type}",
                    "-DLEEWHEEL_VIEWER=OFF"], check=True, stdout=subprocess.DEVNULL)
    needed = sorted({program for m in chosen for program in programs_of(m)})
    built = build(out, needed, args.jobs)
    if built.returncode != 0:
        sys.exit(built.stdout[-3000:])
    for program in needed:
        failure = run(out / PROGRAMS[program], 10.0 * args.time_limit)
        if failure is not None:
            sys.exit(f"{program} fails without any mutation: {failure}")

    counts = {}
    for k, mutation in enumerate(chosen, 1):
        start = time.monotonic()
        verdict, detail = judge(mutation, tree, out, args)
        counts[verdict] = counts.get(verdict, 0) + 1
        print(f"{k:3}/{len(chosen)} {verdict:14} {mutation.name:34} {time.monotonic() - start:4.0f} s  {mutation.breaks}",
              f"\n{'':23}by: {detail}" if verdict == "killed" else f"\n{'':23}{detail}" if detail else "", flush=True)
    print(", ".join(f"{count} {verdict}" for verdict, count in sorted(counts.items())))
    sys.exit(1 if counts.get("survived", 0) + counts.get("does not build", 0) else 0)


if __name__ == "__main__":
    main()
