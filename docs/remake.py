#!/usr/bin/env python3
"""Runs every command shown in docs/ as "$ leewheel ..." and puts its present output below it: docs/remake.py BUILD_FOLDER."""
import os
import pathlib
import re
import subprocess
import sys

docs = pathlib.Path(__file__).resolve().parent
program = pathlib.Path(sys.argv[1]).resolve() / "sim"
environment = dict(os.environ, PATH=f"{program}:{os.environ['PATH']}")


def rerun(block: str) -> str:
    shown = [line for line in block.split("\n") if line.startswith("$ ")]
    parts = []
    for line in shown:
        run = subprocess.run(["bash", "-c", line[2:]], cwd=docs.parent, env=environment, capture_output=True, text=True)
        if run.returncode not in (0, 1):  # 1: the answer is no
            sys.exit(f"{line}\n{run.stderr}")
        parts.append(f"{line}\n{run.stdout.rstrip()}\n")
    return "\n".join(parts)


for page in sorted(docs.glob("*.md")):
    text = page.read_text()
    fresh = re.sub(r"```\n(\$ leewheel.*?\n)```", lambda found: f"```\n{rerun(found.group(1))}```", text, flags=re.S)
    if fresh != text:
        page.write_text(fresh)
        print(f"remade {page.name}")
