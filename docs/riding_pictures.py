#!/usr/bin/python3
"""Rides small invented scenarios and draws what riders did into docs/pictures: docs/riding_pictures.py waves|echelon|rotation|gain."""
import json
import pathlib
import subprocess
import sys
import tempfile

import numpy as np

sys.dont_write_bytecode = True
from riding_scenes import PLAN_W, W_PRIME_J, equals, ride, road, spells, wind  # noqa: E402

PICTURES = pathlib.Path(__file__).resolve().parent / "pictures"
INK, PALE, RULE, PAPER = "#26313b", "#5c6873", "#d9dcdf", "#fbfaf6"
BLUE, RED, GREEN, PLUM, BLACK, GREY = "#0060a0", "#c8500a", "#007a5a", "#9a4f88", "#26313b", "#8a949c"


class Picture:
    """An SVG 700 wide: text of 15 and more, so that it can be read on a phone."""

    def __init__(self, name: str, height: float, title: str, says: str):
        self.name, self.parts = name, [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 700 {height}" width="700" height="{height}" '
            f'font-family="DejaVu Sans, Verdana, sans-serif">', f"<title>{title}</title>"]
        self.box(0, 0, 700, height, PAPER, RULE, 10)
        self.text(20, 34, title, 20, weight="bold")
        self.text(20, 58, says, 15, PALE)

    def box(self, x, y, width, height, fill, edge="none", round_=0.0):
        self.parts.append(f'<rect x="{x:.1f}" y="{y:.1f}" width="{width:.1f}" height="{height:.1f}" rx="{round_}" fill="{fill}" stroke="{edge}"/>')

    def text(self, x, y, words, size=15, colour=INK, anchor="start", weight="normal"):
        self.parts.append(f'<text x="{x:.1f}" y="{y:.1f}" font-size="{size}" fill="{colour}" text-anchor="{anchor}" '
                          f'font-weight="{weight}">{words}</text>')

    def path(self, points, colour=INK, width=1.5, dash="", fill="none", arrow=False):
        points = list(points)
        d = "M" + "L".join(f"{x:.1f} {y:.1f}" for x, y in points)
        dashes = f' stroke-dasharray="{dash}"' if dash else ""
        self.parts.append(f'<path d="{d}" fill="{fill}" stroke="{colour}" stroke-width="{width}" stroke-linejoin="round"{dashes}/>')
        if arrow:
            (x0, y0), (x, y) = points[-2:]
            along = np.array([x - x0, y - y0]) / np.hypot(x - x0, y - y0) * 11
            across = np.array([-along[1], along[0]]) * 0.45
            tip = np.array([x, y])
            self.path([tip - along + across, tip, tip - along - across], colour, width)

    def mark(self, x, y, shape, colour, fill):
        if shape == "round":
            self.parts.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="5" fill="{fill}" stroke="{colour}" stroke-width="2"/>')
        else:
            self.parts.append(f'<rect x="{x - 4.5:.1f}" y="{y - 4.5:.1f}" width="9" height="9" fill="{fill}" stroke="{colour}" stroke-width="2"/>')

    def key(self, x, y, words, colour, width=2.0, dash="", shape="", fill=PAPER):
        self.path([(x, y - 5), (x + 34, y - 5)], colour, width, dash)
        if shape:
            self.mark(x + 17, y - 5, shape, colour, fill)
        self.text(x + 42, y, words)

    def save(self):
        (PICTURES / f"riding_{self.name}.svg").write_text("\n".join([*self.parts, "</svg>\n"]))


class Panel:
    """Axes in a picture; x and y are the values at their two ends, so that (12, 0) points down."""

    def __init__(self, picture, top, height, x, y, left=70, right=655):
        self.picture, self.top, self.bottom, self.left, self.right, self.x, self.y = picture, top, top + height, left, right, x, y

    def at(self, x, y):
        return (self.left + (x - self.x[0]) / (self.x[1] - self.x[0]) * (self.right - self.left),
                self.bottom - (y - self.y[0]) / (self.y[1] - self.y[0]) * (self.bottom - self.top))

    def axes(self, title, y_ticks, x_ticks=(), x_title=""):
        for value in y_ticks:
            x, y = self.at(self.x[0], value)
            self.picture.path([(self.left, y), (self.right, y)], RULE, 1)
            self.picture.text(x - 8, y + 5, f"{value:g}", anchor="end")
        for value in x_ticks:
            x, _ = self.at(value, self.y[0])
            self.picture.path([(x, self.bottom), (x, self.bottom + 5)], PALE, 1)
            self.picture.text(x, self.bottom + 21, f"{value:g}", anchor="middle")
        self.picture.text(20, self.top - 16, title, weight="bold")
        if x_title:
            self.picture.text((self.left + self.right) / 2, self.bottom + 43, x_title, anchor="middle")

    def curve(self, xs, ys, colour=INK, width=2.0, dash=""):
        xs, ys = np.asarray(xs), np.asarray(ys)
        seen = (xs >= self.x[0]) & (xs <= self.x[1])
        self.picture.path((self.at(x, y) for x, y in zip(xs[seen], ys[seen])), colour, width, dash)

    def level(self, value, words):
        self.curve(self.x, (value, value), PALE, 1.5, "2 4")
        self.picture.text(self.right + 2, self.at(0, value)[1] - 5, words, 15, PALE)


def waves():
    on = road(*[(250, 5 - 10 * (k % 2)) for k in range(16)])
    line, alone = ride(on, equals(6), "together"), ride(on, equals(1), "together")
    picture = Picture("waves", 810, "Six equals on waves of 250 m, 5 % up and 5 % down",
                      f"Calm; everyone plans {PLAN_W:.0f} W. Three waves of a road of eight.")
    shown, ticks = (1500, 3000), range(1500, 3001, 250)
    profile, speed, power = (Panel(picture, 140, 60, shown, (200, 214)), Panel(picture, 245, 190, shown, (10, 60)),
                             Panel(picture, 480, 270, shown, (0, 400)))
    profile.axes("Elevation, m", (200, 212))
    speed.axes("Speed, km/h", range(10, 61, 10))
    power.axes("Power, W", range(0, 401, 100), ticks, "along the road, m")
    profile.curve(np.arange(len(line.elevation_m)) * line.spacing_m, line.elevation_m)
    for panel in (profile, speed, power):
        for crest in range(shown[0] + 250, shown[1], 500):
            panel.picture.path([(panel.at(crest, 0)[0], panel.top), (panel.at(crest, 0)[0], panel.bottom)], RULE, 1)
    power.level(PLAN_W, "plan")
    for one, riders, x, words, *style in ((line, range(1, 5), 140, "riders 2 to 5", GREY, 1.2, ""), (line, [5], 335, "rider 6", BLUE, 2, "2 3"),
                                          (alone, [0], 460, "one alone", BLACK, 1.6, "9 5"), (line, [0], 20, "rider 1", RED, 2.6, "")):
        picture.key(x, 95, words, *style)
        for k in riders:
            speed.curve(one.distance_m[:, k], 3.6 * one.speed_mps[:, k], *style)
            power.curve(one.distance_m[:, k], one.power_W[:, k], *style)
    picture.save()
    print("           in front  mean W  hardest 3 s  coasts  W' left    4 km")
    for words, one, k in [*((f"Rider {k + 1}", line, k) for k in range(6)), ("one alone", alone, 0)]:
        riding = one.doing[:, k] != "finished"
        power_W, front_s = one.power_W[riding, k], (one.doing[riding, k] == "front").sum() / 2
        print(f"{words:10}{front_s:7.0f} s{power_W.mean():8.0f}{np.convolve(power_W[60:], np.full(6, 1 / 6), 'valid').max():11.0f} W"
              f"{100 * (power_W < 10).mean():6.0f} %{100 * one.wbal_J[riding, k][-1] / W_PRIME_J:7.0f} %{one.time_s[riding][-1]:6.0f} s")


def echelon():
    seen = ride(road((6000, 0), abreast=3), equals(8), "together", wind=wind(7, 270))
    turning = (seen.doing == "drifting_back").any(axis=1) | (seen.time_s < 60)
    sample = max(end - 1 for _, end in spells(~turning) if seen.time_s[end - 1] < 320)
    order = np.argsort(-seen.distance_m[sample])
    distance_m, side_m, factor, power_W, speed_mps, along_mps, across_mps = (
        column[sample][order] for column in (seen.distance_m, seen.lateral_m, seen.drag_factor, seen.power_W, seen.speed_mps,
                                             seen.wind_along_mps, seen.wind_cross_mps))
    behind_m = distance_m[0] - distance_m
    picture = Picture("echelon", 420, "Eight in a side wind of 7 m/s, seen from above",
                      f"Level road of 6.5 m, three abreast, {3.6 * speed_mps.mean():.0f} km/h; to scale. Number: drag over drag alone.")
    scale, front_x, middle_y = 33.0, 648.0, 190.0
    edge_y = middle_y + 3.25 * scale
    picture.box(20, middle_y - 3.25 * scale, 660, 6.5 * scale, "#e9eaea", PALE)
    picture.path([(20, middle_y), (680, middle_y)], PALE, 1.5, "16 12")
    for metres, y, fill in zip(behind_m, middle_y - scale * side_m, factor):
        x, colour = front_x - scale * metres, BLUE if fill < SHELTERED else RED
        slope = -across_mps.mean() / (speed_mps - along_mps).mean()
        reach = min(2.6 * scale, (edge_y - y) / slope)
        if fill < SHELTERED or metres == 0:
            picture.path([(x - 1.7 * scale, y), (x - 1.7 * scale - reach, y + slope * reach)], PALE, 1.5, "3 4")
        picture.path([(x - 1.7 * scale, y), (x, y)], colour, 3)
        picture.box(x - 1.25 * scale, y - 0.22 * scale, 0.8 * scale, 0.44 * scale, colour if fill < SHELTERED else PAPER, colour, 5)
        picture.text(x - 0.85 * scale, y + 26 if y + 30 < edge_y else edge_y + 18, f"{fill:.2f}", 16, colour, "middle", "bold")
    for x in (45, 290, 440):
        picture.path([(x, 100), (x, 165)], INK, 2.5, arrow=True)
    picture.text(60, 138, f"wind at the riders {-across_mps.mean():.1f} m/s")
    picture.path([(560, 132), (650, 132)], INK, 2.5, arrow=True)
    picture.text(548, 137, "riding", anchor="end")
    for x, words, fill, colour in ((20, f"sheltered (below {SHELTERED:g})", BLUE, BLUE), (250, "in the wind", PAPER, RED)):
        picture.box(x, 353, 30, 14, fill, colour, 5)
        picture.text(x + 40, 365, words)
    picture.key(430, 365, "the way wakes trail", PALE, 1.5, "3 4")
    picture.path([(20, 393), (20 + 5 * scale, 393)], INK, 2)
    picture.text(28 + 5 * scale, 398, "5 m")
    picture.save()
    for words, values, digits in (("metres behind the first", behind_m, 1), ("metres right of the middle", -side_m, 1),
                                  ("drag factor", factor, 2), ("power, W", power_W, 0)):
        print(f"{words:28}" + "".join(f"{value:7.{digits}f}" for value in values))


SHELTERED = 0.9
RIDERS = [(BLUE, ""), (RED, "9 4"), (GREEN, "2 3"), (PLUM, "9 3 2 3"), (BLACK, "5 3")]


def rotation():
    seen = ride(road((7000, 0)), equals(5), "together")
    picture = Picture("rotation", 950, "Five equals take turns on the level",
                      f"Calm; everyone plans {PLAN_W:.0f} W. Boxes: turns in front.")
    shown, t = (180, 540), seen.time_s
    behind_m = seen.distance_m.max(axis=1, keepdims=True) - seen.distance_m
    turns = {k: spells(seen.doing[:, k] == "front") for k in range(5)}
    places = Panel(picture, 110, 290, shown, (12, -1.6))
    places.axes("Metres behind the first", range(0, 13, 2))
    for k, (colour, dash) in enumerate(RIDERS):
        places.curve(t, behind_m[:, k], colour, 2.2, dash)
        for begin, end in turns[k]:
            first, last = max(t[begin], shown[0]), min(t[end - 1], shown[1])
            if last - first < 5:
                continue
            (x0, y), (x1, _) = places.at(first, -0.95), places.at(last, -0.95)
            picture.box(x0 + 1, y - 10, x1 - x0 - 2, 20, PAPER, colour, 4)
            picture.text((x0 + x1) / 2, y + 5, f"{k + 1}" if x1 - x0 < 70 else f"rider {k + 1}", 15, colour, "middle", "bold")
    rider = 2
    colour, dash = RIDERS[rider]
    begin, end = next(one for one in turns[rider] if t[one[0]] > shown[0] + 60)
    power = Panel(picture, 450, 170, shown, (0, 400))
    power.axes(f"Power of rider {rider + 1}, W", range(0, 401, 100), range(shown[0], shown[1] + 1, 60), "time, s")
    near = Panel(picture, 715, 170, (t[begin] - 6, t[begin] + 10), (150, 350), right=318)
    near.axes("Taking the front, closer", range(150, 351, 50), range(-(-int(t[begin] - 5) // 5) * 5, int(t[begin]) + 11, 5), "time, s")
    leaving = Panel(picture, 715, 170, (t[end] - 6, t[end] + 26), (0, 400), left=410)
    leaving.axes("", range(0, 401, 100), range(-(-int(t[end] - 5) // 10) * 10, int(t[end]) + 26, 10), "time, s")
    picture.text(360, 699, "Leaving it, closer", weight="bold")
    for panel in (power, near, leaving):
        panel.level(PLAN_W, "plan")
        panel.curve(t, seen.power_W[:, rider], colour, 2.2)
    before_W = seen.power_W[begin - 1, rider]
    rising = np.array([t[begin], t[begin] + 5])
    near.curve(rising, before_W + 20 * (rising - rising[0]), INK, 1.5, "5 4")
    x, y = near.at(rising[1], before_W + 100)
    picture.text(x + 8, y + 22, "20 W/s")
    picture.save()
    print(" ".join(f"{f'rider {k + 1}':>9}" for k in range(5)))
    lengths = [[f"{(end - begin) / 2:.0f} s" for begin, end in turns[k]] for k in range(5)]
    for row in range(min(len(of) for of in lengths)):
        print(" ".join(f"{of[row]:>9}" for of in lengths))
    rise_W = np.diff(seen.power_W[begin - 2:begin + 12:2, rider])
    print(f"on taking the front rider {rider + 1} rises by " + ", ".join(f"{rise:.0f}" for rise in rise_W[rise_W > 2]) + " W from second to second")


COUNTS = [1, 2, 3, 4, 6, 8, 12]


def gains() -> dict[float, dict[str, list[float]]]:
    """By head wind (m/s at the rider): gain ridden and of the closed form, %, as the evidence works them out from one scenario."""
    given = {"mass_kg": 83, "drag_area_m2": 0.34, "wheel_drag_area_m2": 0.0044, "rolling": 0.005, "efficiency": 0.976, "density_kgpm3": 1.2,
             "strength_W": PLAN_W, "riders": COUNTS, "length_m": 12000}
    asked = {name: [{"at": list(range(1, len(COUNTS) + 1)), "between": [-100, 100]}] for name in ("faster_percent", "closed_form_percent")}
    rows = [{"name": f"{head}", "kind": "line", "source": {"authors": "none", "trust": "computed"}, "published": asked,
             "given": given | {"wind": {"head_mps": head}}} for head in (0, HEAD_MPS)]
    with tempfile.NamedTemporaryFile("w", suffix=".yaml") as file:
        json.dump({"group": "gain", "rows": rows}, file)
        file.flush()
        answer = subprocess.run(["leewheel", "evidence", "--rows", file.name, "--group", "gain", "--json"], check=True, capture_output=True, text=True)
    found = {0: {}, HEAD_MPS: {}}
    for line in json.loads(answer.stdout)["groups"][0]["lines"]:
        found[float(line["row"])].setdefault(line["quantity"], []).append(line["ours"])
    return found


HEAD_MPS = 3.1  # 6 m/s at 10 m beside open slopes (docs/wind.md)


def gain():
    found = gains()
    picture = Picture("gain", 520, "What company gives: gain in speed over riding alone",
                      f"Equals of {PLAN_W:.0f} W on the level. Ridden: filled. Closed form: hollow, dashed.")
    panel = Panel(picture, 150, 290, (0.5, 12.5), (0, 30))
    panel.axes("Gain, %", range(0, 31, 5), COUNTS, "riders in line")
    x = 20
    for head, words, colour, shape in ((0, "calm", BLUE, "round"), (HEAD_MPS, f"head wind of {HEAD_MPS} m/s at the rider", RED, "square")):
        for quantity, dash, fill in (("closed_form_percent", "6 5", PAPER), ("faster_percent", "", colour)):
            panel.curve(COUNTS, found[head][quantity], colour, 2, dash)
            for count, value in zip(COUNTS, found[head][quantity]):
                picture.mark(*panel.at(count, value), shape, colour, fill)
        picture.key(x, 95, words, colour, shape=shape, fill=colour)
        x += 150
    picture.save()
    print(f"{'riders':34}" + "".join(f"{count:6}" for count in COUNTS))
    for head, words in ((0, "calm"), (HEAD_MPS, f"{HEAD_MPS} m/s ahead")):
        for quantity, kind in (("faster_percent", "ridden"), ("closed_form_percent", "closed form")):
            print(f"{f'{words}, {kind}, %':34}" + "".join(f"{value:6.1f}" for value in found[head][quantity]))


if __name__ == "__main__":
    {"waves": waves, "echelon": echelon, "rotation": rotation, "gain": gain}[sys.argv[1]]()
