#!/usr/bin/python3
"""What a coach looks at in the traces of three invented rides: docs/riding_coach.py."""
import sys

import numpy as np

sys.dont_write_bytecode = True
from riding_scenes import W_PRIME_J, equals, ride, road, spells, wind  # noqa: E402

ROLLING = [0.5, 3, -2, 4.5, -4, 1, 6, -3, 0, 2, -1.5, 3.5, -5, 0.5, 2.5]


def strong(**critical_W: float) -> list[dict]:
    return [{"name": name, "critical_power_W": watts, "body_mass_kg": 20 + 0.2 * watts} for name, watts in critical_W.items()]


def look_at(title: str, on: dict, riders: list[dict], kind: str, **more):
    seen = ride(on, riders, kind, **more)
    print(f"{title}\n           home  before alone   mean  over 120 %  coasts   hardest 5 s                     on a wheel     in front          W' left  below 10 %")
    for k, rider in enumerate(riders):
        riding = seen.doing[:, k] != "finished"
        doing, seconds, left = seen.doing[riding, k], riding.sum() // 2, 100 * seen.wbal_J[riding, k] / W_PRIME_J
        alone_s = (ride(on, [rider], kind, **more).doing[:, 0] != "finished").sum() // 2
        effort = 100 * seen.power_W[riding, k] / rider.get("critical_power_W", 250)
        five_s = np.convolve(effort, np.full(10, 0.1), "valid")
        hardest = int(five_s.argmax())
        gap_m = seen.gap_m[riding, k][doing == "following"]
        turns = [(end - begin) / 2 for begin, end in spells(doing == "front")]
        what = f"{five_s[hardest]:.0f} % at {seen.distance_m[hardest, k] / 1000:.1f} km, {doing[hardest + 5].replace('_', ' ')}"
        print(f"{rider['name']:9}{seconds // 60:3}:{seconds % 60:02}{alone_s - seconds:11} s{effort.mean():7.0f} %{100 * (effort > 120).mean():10.0f} %{100 * (effort < 4).mean():6.0f} %"
              f"   {what:32}{np.median(gap_m):.2f} to {np.quantile(gap_m, 0.95):.1f} m  "
              f"{f'{len(turns)}: {min(turns):.0f} to {max(turns):.0f} s' if turns else 'never':15}{left[-1]:8.0f} %{(left < 10).sum() / 2:9.0f} s")


print("Powers in % of critical power; gap on a wheel: middle and 95th of a hundred; number and length of turns in front.\n")
look_at("together: five of 215 to 300 W on a rolling road, 5 m/s from ahead and the right", road(*[(600, grade) for grade in ROLLING]),
        strong(Ada=250, Bo=290, Cy=240, Di=215, Ed=300), "together", wind=wind(5, 30))
look_at("\nsteady: eight equals on the level, 7 m/s from the side", road((10000, 0)), equals(8), "steady", wind=wind(7, 270))
look_at("\nrace: six of 250 to 300 W, 2.5 km of 1 %, 4 km of 6 %, 500 m of 9 %", road((2500, 1), (4000, 6), (500, 9)),
        strong(Ida=300, Jan=295, Kit=285, Leo=275, Mia=260, Nat=250), "race")
