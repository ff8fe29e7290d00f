#!/usr/bin/env python3
"""Runs every command shown in docs/ as "$ leewheel ..." and puts its present output below it: docs/remake.py BUILD_FOLDER [PAGE ...].
Commands stand in the project's folder and may write pictures into docs/; those of one page run in its order."""
import os
import pathlib
import re
import subprocess
import sys

docs = pathlib.Path(__file__).resolve().parent
build = pathlib.Path(sys.argv[1]).resolve()
pages = [pathlib.Path(page).resolve() for page in sys.argv[2:]] or sorted(docs.rglob("*.md"))
environment = dict(os.environ, PATH=f"{build / 'sim'}:{build / 'viz'}:{os.environ['PATH']}")


def rerun(block: str) -> str:
    shown = [line for line in block.split("\n") if line.startswith("$ ")]
    parts = []
    for line in shown:
        run = subprocess.run(["bash", "-c", line[2:]], cwd=docs.parent, env=environment, capture_output=True, text=True)
        if run.returncode not in (0, 1):  # 1: the answer is no
            sys.exit(f"{line}\n{run.stderr}")
        said = run.stdout.rstrip()
        parts.append(f"{line}\n{said}\n" if said else f"{line}\n")
    return "\n".join(parts)


for page in pages:
    text = page.read_text()
    fresh = re.sub(r"```\n(\$ (?:leewheel|docs/).*?\n)```", lambda found: f"```\n{rerun(found.group(1))}```", text, flags=re.S)
    fresh = re.sub(r"<!-- (\$ leewheel .*?) -->\n.*?<!-- end -->",
                   lambda found: f"<!-- {found.group(1)} -->\n{rerun(found.group(1)).split(chr(10), 1)[1]}<!-- end -->", fresh, flags=re.S)
    if fresh != text:
        page.write_text(fresh)
        print(f"remade {page.relative_to(docs)}")
