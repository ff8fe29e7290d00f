#!/usr/bin/env python3
"""The plan of `leewheel lineup` beside the obvious ones, on the shipped scenarios and for every aim: docs/lineup_table.py [SCENARIO ...]."""
import json
import subprocess
import sys

SHIPPED = ["larkmoor", "headwind", "clubhill", "galecombe", "longmountain"]
OBVIOUS = {"as the scenario stands": "as it stands", "strongest in front all day": "strongest first", "equal turns": "equal turns",
           "no plan: everyone for the top": "no plan"}


def shown(aim: str, plan: dict | None) -> str:
    if plan is None:
        return "-"
    seconds = round(plan["value"])
    clock = f"{seconds // 3600}:{seconds // 60 % 60:02}:{seconds % 60:02}" if seconds >= 3600 else f"{seconds // 60}:{seconds % 60:02}"
    value = clock if aim == "time" else f"{100 * plan['value']:.1f} %"
    return value if plan["allowed"] else f"({value})"


print(f"{'':14}{'for':9}{'found':>10}" + "".join(f"{name:>17}" for name in OBVIOUS.values()))
for scenario in sys.argv[1:] or SHIPPED:
    for aim in ("time", "weakest", "fair"):
        run = subprocess.run(["leewheel", "lineup", f"scenarios/{scenario}/scenario.yaml", "--for", aim, "--json"], capture_output=True, text=True)
        answer = json.loads(run.stdout)
        plans = {plan["name"]: plan for plan in answer["obvious"]}
        print(f"{scenario:14}{aim:9}{shown(aim, answer.get('plan')):>10}" + "".join(f"{shown(aim, plans.get(name)):>17}" for name in OBVIOUS))
