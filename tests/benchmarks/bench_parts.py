"""Print what books of very long parts cost: checked, planned, drawn, printed. Figures, no verdict.

python tests/benchmarks/bench_parts.py

Each pattern is one part, built as a booklet into a new folder by the command, as a person runs it.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterable
from pathlib import Path

ROOT = Path(__file__).parents[2]
HEAD = """format = 1
title = "A long cord"
version = "1.0"
designer = "Reedbank Knot Room"

[colours.G]
name = "reed green"
srgb = "#4d5a2a"
yarn = "cotton"

[yarns.cotton]
name = "cotton"
diameter_mm = 3.0
grams_per_metre = 4.6

[yarns.rope]
name = "rope"
diameter_mm = 14.0
grams_per_metre = 80.0

[colours.R]
name = "rope"
srgb = "#8a7a55"
yarn = "rope"

[[pieces]]
id = "cord"
kind = "steps"
mount = { on = "ring", diameter_mm = 30 }
cords = [
  { colour = "G", lay = "folded", knot = "larks-head" },
  { colour = "%s", lay = "folded", knot = "larks-head" },
]
steps = [
%s
]
"""


def noted() -> Iterable[str]:
    """1,500 square knots, each with words of its own."""
    for number in range(1, 1501):
        yield f'  {{ tie = "square-knot", on = [1, 2, 3, 4], note = "Knot {number}." }},'


def varied() -> Iterable[str]:
    """200 steps that differ from those before and after, on thin and thick cords."""
    kinds = (
        lambda n: '{ tie = "square-knot", on = [1, 2, 3, 4] }',
        lambda n: f"{{ cross = [{n % 3 + 1}, {n % 3 + 2}] }}",
        lambda n: f'{{ tie = "overhand", on = [{n % 4 + 1}] }}',
        lambda n: f"{{ gap_mm = {5 + n % 7} }}",
        lambda n: '{ tie = "diagonal-double-half-hitch", leader = 1, on = [2, 3, 4] }',
    )
    for number in range(200):
        yield f"  {kinds[number % len(kinds)](number)},"


def build(name: str, colour: str, steps: Iterable[str], folder: Path) -> None:
    (folder / "patterns").mkdir(parents=True)
    text = HEAD % (colour, "\n".join(steps))
    (folder / "patterns/cord.toml").write_text(text, encoding="utf-8")
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    words = [sys.executable, "-m", "publisher", "build", "--edition", "booklet", "--paper", "a4"]
    before, started = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    environment["PYTHONPATH"] = str(ROOT)
    subprocess.run(words, cwd=folder, env=environment, check=True, stdout=subprocess.DEVNULL)
    wall, after = time.perf_counter() - started, resource.getrusage(resource.RUSAGE_CHILDREN)
    cpu = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
    most = after.ru_maxrss / 1024  # of all children so far
    size = sum(path.stat().st_size for path in folder.glob("build/*/*.pdf")) / 1e6
    print(f"{name:28} {wall:6.2f} s wall {cpu:6.2f} s CPU {most:5.0f} MB, PDF {size:.1f} MB")


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        build("200 different steps", "R", varied(), Path(folder, "varied"))
        build("1,500 knots with notes", "G", noted(), Path(folder, "noted"))


if __name__ == "__main__":
    main()
