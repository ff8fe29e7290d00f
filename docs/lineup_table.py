#!/usr/bin/env python3
"""The plan of `leewheel lineup` beside the plan clubs ride, on the shipped scenarios and for every aim: docs/lineup_table.py [SCENARIO ...]."""
import json
import subprocess
import sys

SHIPPED = ["larkmoor", "headwind", "clubhill", "galecombe", "longmountain"]


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


print(f"{'':23}{'as clubs ride':>16}{'':15}{'chosen':>15}\n{'':14}{'for':9}" + 2 * f"{'last':>8}{'weakest':>8}{'later':>7}{'wait':>8}" + "  the chosen plan and what it gains")
for scenario in sys.argv[1:] or SHIPPED:
    for aim in ("time", "weakest", "fair"):
        run = subprocess.run(["leewheel", "lineup", f"scenarios/{scenario}/scenario.yaml", "--for", aim, "--json"], capture_output=True, text=True)
        answer = json.loads(run.stdout)
        print(f"{scenario:14}{aim:9}{figures(answer['clubs'])}{figures(answer['plan'])}  {answer['plan']['label']}: {beside(answer, aim)}")
