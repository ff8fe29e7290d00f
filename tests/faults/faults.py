"""Faults of the machine while a command writes: what it leaves, says and returns.

faults.py PROGRAM SHIM RECORDINGS SCENARIOS FOLDER [all]. Every command that writes is run over earlier results. Its n-th write fails, for
every n that it gets to (without `all` some of many); it is stopped by SIGINT, SIGTERM and SIGKILL; its folder is gone or closed. Then the
exit code is the documented one, one line says why, and the earlier results are untouched.
"""
import os
import random
import shutil
import signal
import subprocess
import sys
import time

# A short road, so that a ride takes no time; {name} differs between the earlier results and those that fail.
SCENARIO = """title: {name}
road:
  start_elevation_m: 0
  stretches: [{{length_m: 400, grade_percent: 2, heading_deg: 0}}, {{length_m: 300, grade_percent: 5, heading_deg: 90}}]
  landmarks: [{{at_m: 400, name: Gate}}]
wind: {{from: W, speed_kmh: 15}}
riders: [{{name: {name}, critical_power_W: 260}}, {{name: Vera, critical_power_W: 240}}]
"""
FEW = 12  # places of a fault that are tried of a command with many writes, unless all are


class Command:
    def __init__(self, arguments, keeps=(), slow=False):
        self.arguments = arguments  # {file}: the scenario
        self.keeps = set(keeps)  # files that are written as it goes, and may stay
        self.slow = slow  # stopped at fewer moments, unless all are asked for
        self.name = " ".join(arguments)


COMMANDS = [
    Command("new {name}.road.yaml -o o --force --yes".split()),
    Command("road {name}.road.yaml -o o/road.yaml".split()),
    Command("wind {file} -o o".split()),
    Command("club {scenarios}/club.yaml --learned {name}.learned.yaml -o o/club.yaml".split()),
    Command("ride {file} -o o --one --alone".split(), ["trace.h5.part", "alone.h5.part"]),
    Command("shelter {file} --rider Vera -o o".split()),
    Command("pace {file} --rider Vera -o o/plan.yaml".split(), slow=True),
    Command("notes {file} --times 2:00,3:00 -o o/notes.html --captions o/notes.vtt".split(), slow=True),
    Command("lineup {file} --days 4 -o o/planned.yaml".split(), slow=True),
    Command("spread {file} --runs 6 -o o".split(), ["spread_runs.ndjson"]),
    Command("sheet {file} --days 2 -o o/sheet.html".split()),
    Command("page {file} -o o/ride.html".split()),
    Command("debrief --recorded Cato={name}.gpx -o o".split(), slow=True),
    Command("evidence --write-page o/evidence.md".split(), slow=True),
    Command("fields -o o/fields.md".split()),
    Command("man -o o".split()),
]


def written(folder):
    found = {}
    for place, _, files in os.walk(folder):
        for file in files:
            with open(os.path.join(place, file), "rb") as content:
                found[os.path.relpath(os.path.join(place, file), folder)] = content.read()
    return found


class Trial:
    def __init__(self, program, shim, scenarios):
        self.program, self.shim, self.scenarios = program, shim, scenarios
        self.faults = 0

    def arguments(self, command, name):
        return [self.program] + [part.format(name=name, file=name + ".yaml", scenarios=self.scenarios) for part in command.arguments]

    def prepare(self, command):
        """The results of an earlier run, under o."""
        shutil.rmtree("o", ignore_errors=True)
        os.mkdir("o")
        subprocess.run(self.arguments(command, "before"), check=True, stdout=subprocess.DEVNULL)
        self.before = written("o")
        assert self.before, command.name

    def run(self, command, **environment):
        self.errors = open("said", "w+")
        return subprocess.Popen(self.arguments(command, "after"), stdout=subprocess.DEVNULL, stderr=self.errors,
                                env={**os.environ, **environment})

    def said(self):
        self.errors.seek(0)
        return self.errors.read()

    def left_untouched(self, command, where, whole=None):
        """The earlier results are as they were, or all are new; only what is written as it goes may be there besides."""
        now = {name: content for name, content in written("o").items() if name not in command.keeps}
        before = {name: content for name, content in self.before.items() if name not in command.keeps}
        if whole is not None and now == {name: content for name, content in whole.items() if name not in command.keeps}:
            return
        assert now == before, f"{where}: changed {sorted(n for n in set(now) | set(before) if now.get(n) != before.get(n))}"

    def failed_well(self, command, code, expected, where, whole=None):
        said = self.said()
        lines = said.splitlines()
        assert code in expected, f"{where}: exit code {code}: {said[:400]}"
        assert len(lines) == 1 and lines[0].startswith("leewheel: "), f"{where}: {said[:400]}"
        self.left_untouched(command, where, whole)
        self.faults += 1

    def with_writes_failing(self, command, every):
        """Gives how many writes there are."""
        self.prepare(command)
        assert self.run(command).wait() == 0, command.name
        whole, count = written("o"), 0
        self.prepare(command)
        for on in (False, True):
            mode = {"LEEWHEEL_FAULT_ON": "1"} if on else {}
            n = 1
            while True:
                if os.path.exists("told"):
                    os.remove("told")
                code = self.run(command, LD_PRELOAD=self.shim, LEEWHEEL_FAULT_AT=str(n), LEEWHEEL_FAULT_TOLD="told", **mode).wait()
                where = f"{command.name}: write {n}{' and all that follow' if on else ''}"
                if not os.path.exists("told"):
                    assert code == 0, f"{where}: {code}: {self.said()[:400]}"
                    break
                if code == 0 and not on:  # written again, and then there was room
                    now = written("o")
                    assert now == whole, f"{where}: exit code 0, other {[n for n in whole if now.get(n) != whole[n]]}"
                    self.prepare(command)
                else:
                    self.failed_well(command, code, (3,), where)
                if command.keeps:
                    self.prepare(command)
                count = max(count, n)
                n += 1 if every or n < FEW // 2 else max(1, n // 2)
            self.prepare(command)
        return count

    def with_signals(self, command, times, length_s):
        random.seed(1)
        self.prepare(command)
        assert self.run(command).wait() == 0, command.name
        whole = written("o")
        for number in (signal.SIGINT, signal.SIGTERM, signal.SIGKILL):
            for _ in range(times):
                self.prepare(command)
                run = self.run(command)
                time.sleep(random.uniform(0.0, 1.1) * length_s)
                run.send_signal(number)
                code = run.wait()
                where = f"{command.name}: {number.name}"
                if code == 0:
                    continue  # it was done before
                if number == signal.SIGKILL:
                    assert code == -9, where
                    now = written("o")
                    torn = [name for name in self.before if name not in command.keeps and name not in now]
                    assert not torn, f"{where}: gone {torn}"
                    continue
                if code == -number and self.said() == "":
                    self.left_untouched(command, where, whole)
                    continue  # before the program had begun
                self.failed_well(command, code, (3,), where, whole)

    def without_a_place(self, command):
        """The folder is a file, or is closed to us (which root is not)."""
        self.prepare(command)
        shutil.rmtree("o")
        with open("o", "w") as file:
            file.write("in the way\n")
        code = self.run(command).wait()
        said = self.said().splitlines()
        assert code == 2 and len(said) == 1 and said[0].startswith("leewheel: "), f"{command.name}: no folder: {code}: {said}"
        with open("o") as file:
            assert file.read() == "in the way\n"
        os.remove("o")
        if os.geteuid() != 0:
            self.prepare(command)
            os.chmod("o", 0o555)
            code = self.run(command).wait()
            os.chmod("o", 0o755)
            self.failed_well(command, code, (2,), f"{command.name}: no permission")


def main(program, shim, recordings, scenarios, folder, how=""):
    shutil.rmtree(folder, ignore_errors=True)
    os.makedirs(folder)
    os.chdir(folder)
    subprocess.run([recordings, f"{scenarios}/larkmoor/scenario.yaml", "recorded"], check=True, stdout=subprocess.DEVNULL)
    for name, rider, grade in (("before", "Una", 2), ("after", "Ute", 3)):
        with open(f"{name}.yaml", "w") as file:
            file.write(SCENARIO.format(name=rider))
        with open(f"{name}.road.yaml", "w") as file:
            file.write(f"start_elevation_m: 0\nstretches: [{{length_m: 700, grade_percent: {grade}, heading_deg: 0}}]\n")
        recording = {"before": "Cato", "after": "Elin"}[name]
        shutil.copy(f"recorded/{recording}.gpx", f"{name}.gpx")
        subprocess.run([program, "debrief", f"{scenarios}/larkmoor/scenario.yaml", "--recorded", f"{recording}={name}.gpx", "-o", "debrief",
                        "--quiet"], check=True)
        shutil.copy("debrief/learned.yaml", f"{name}.learned.yaml")
    trial = Trial(program, shim, scenarios)
    wrong = []
    for command in COMMANDS:
        for what in ("writes", "signals", "place"):
            begun = time.monotonic()
            try:
                if what == "writes":
                    count = trial.with_writes_failing(command, how == "all")
                    print(f"{command.name}: {count} writes", flush=True)
                elif what == "signals":
                    trial.prepare(command)
                    length_s = time.monotonic() - begun
                    trial.with_signals(command, 20 if how == "all" else 1 if command.slow else 2, length_s)
                else:
                    trial.without_a_place(command)
            except AssertionError as fault:
                wrong.append(str(fault))
                print("WRONG", fault, flush=True)
    assert not wrong, "\n".join(wrong)
    print(f"{trial.faults} faults of {len(COMMANDS)} commands ended well")


if __name__ == "__main__":
    main(*sys.argv[1:])
