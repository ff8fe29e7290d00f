"""The sheets and cards of every shipped scenario printed by a real browser: sheet_on_paper.py PROGRAM FOLDER SCENARIOS.

Skipped (77) where there is no Chromium or no pdftotext. No page of a sheet but the last leaves more than a third empty and the
last holds a quarter at least; a page of cards is full. On a card the time at the end is the largest word, and type is 14 pt or
more (12 where a card would else take a page of its own). No card is split over two pages.
"""

import pathlib
import re
import shutil
import subprocess
import sys

program, folder, scenarios = sys.argv[1], pathlib.Path(sys.argv[2]), pathlib.Path(sys.argv[3])
browser = shutil.which("chromium")
for tool, what in ((browser, "chromium"), (shutil.which("pdftotext"), "pdftotext (poppler-utils)")):
    if not tool:
        print(f"no {what} here")
        sys.exit(77)
shutil.rmtree(folder, ignore_errors=True)
folder.mkdir(parents=True)

SMALL = {"longmountain"}  # seven stretches a card: two cards a page in 12 pt
LINE = 1.164  # height of a word in DejaVu Sans, in sizes of its type
wrong = []


def words_by_page(scenario, pocket):
    """Words of each page: text, top, bottom (pt); and the height of the page."""
    page, pdf = folder / "page.html", folder / "page.pdf"
    subprocess.run([program, "sheet", str(scenarios / scenario / "scenario.yaml"), "--quiet", "-o", str(page)]
                   + (["--pocket"] if pocket else []), check=True)
    subprocess.run([browser, "--headless", "--no-sandbox", "--disable-gpu", f"--user-data-dir={folder / 'profile'}",
                    "--host-resolver-rules=MAP * ~NOTFOUND", "--no-pdf-header-footer", f"--print-to-pdf={pdf}", f"file://{page}"],
                   check=True, timeout=120, capture_output=True)
    text = subprocess.run(["pdftotext", "-bbox", str(pdf), "-"], check=True, capture_output=True, text=True).stdout
    pages = []
    for part in text.split("<page ")[1:]:
        height = float(re.search(r'height="([\d.]+)"', part).group(1))
        pages.append((height, [(word, float(top), float(bottom)) for top, bottom, word in
                               re.findall(r'<word xMin="[^"]*" yMin="([^"]*)" xMax="[^"]*" yMax="([^"]*)">(.*?)</word>', part)]))
    return pages


def filled(height, words):
    return max(bottom for _, _, bottom in words) / height


for scenario in sorted(path.name for path in scenarios.iterdir() if (path / "scenario.yaml").exists()):
    sheet, cards = words_by_page(scenario, False), words_by_page(scenario, True)
    shares = [filled(*page) for page in sheet]
    print(f"{scenario}: sheet filled {[f'{s:.2f}' for s in shares]}", end="")
    wrong += [f"{scenario}: a third of page {n + 1} is empty" for n, s in enumerate(shares[:-1]) if s < 0.67]
    wrong += [f"{scenario}: the last page holds next to nothing"] * (shares[-1] < 0.25)
    shares = [filled(*page) for page in cards]
    print(f", cards {[f'{s:.2f}' for s in shares]}")
    wrong += [f"{scenario}: page {n + 1} of cards is not full" for n, s in enumerate(shares) if s < 0.85]
    for n, (height, words) in enumerate(cards):
        text = " ".join(word for word, _, _ in words)
        if text.count("Food:") != text.count("Arrive") or text.count("A model") != text.count("Arrive"):
            wrong.append(f"{scenario}: a card is split after page {n + 1}")
        times = [(bottom - top, word) for word, top, bottom in words if re.fullmatch(r"(\d+:)?\d+:\d\d", word)]
        tallest, largest = max((bottom - top, word) for word, top, bottom in words)
        if "Arrive" in text and (tallest, largest) not in times:
            wrong.append(f"{scenario}: '{largest}' is larger than the time at the end")
        arrivals_pt = [tall / LINE for tall, _ in times if tall > 0.5 * tallest]
        if "Arrive" in text and min(arrivals_pt) < (12 if scenario in SMALL else 14) - 0.1:
            wrong.append(f"{scenario}: times stand in {min(arrivals_pt):.1f} pt on page {n + 1}")
print("\n".join(wrong))
sys.exit(1 if wrong else 0)
