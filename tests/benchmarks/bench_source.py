"""Print what reading a pattern costs: small, large, with faults, from cold. Figures, no verdict.

python tests/benchmarks/bench_source.py
"""

from __future__ import annotations

import random
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from publisher.errors import SourceError
from publisher.source import read_pattern

LETTERS = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz01234567"
HEAD = """\
format = 1
title = "Ripples"
version = "1.0"

[yarns.cotton]
name = "cotton"
diameter_mm = 3
grams_per_metre = 4.5
"""
COLD = """
import time
began = time.perf_counter()
from publisher.source.read import read_pattern
known = time.perf_counter()
read_pattern({path!r})
print(f"{{(known - began) * 1e3:.0f}} {{(time.perf_counter() - began) * 1e3:.0f}}")
"""


def pattern_text(columns: int, rows: int, colours: int) -> str:
    """A pattern of random knots: the worst that a chart of its size can be."""
    letters, pick = LETTERS[:colours], random.Random(columns)
    tables = "".join(
        f'\n[colours.{letter}]\nname = "colour {letter}"\nsrgb = "#{at:02x}4060"\nyarn = "cotton"\n'
        for at, letter in enumerate(letters)
    )
    chart = "\n".join("".join(pick.choices(letters, k=columns)) for _ in range(rows))
    return f'{HEAD}{tables}\n[[pieces]]\nid = "panel"\nchart = """\n{chart}\n"""\n'


def milliseconds(work: Callable[[], object], times: int) -> float:
    """The best of several runs."""
    best = float("inf")
    for _ in range(times):
        began = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - began)
    return best * 1e3


def read_faults(path: Path) -> int:
    """How many problems a wrong file has."""
    try:
        read_pattern(path)
    except SourceError as error:
        return len(error.problems)
    return 0


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "ripples.toml"
        for columns, rows, colours in ((60, 90, 6), (400, 600, 60), (800, 600, 20)):
            path.write_text(pattern_text(columns, rows, colours), encoding="utf-8")
            cost = milliseconds(lambda: read_pattern(path), 5)
            print(f"{columns} x {rows} knots, {colours} colours, warm: {cost:.2f} ms")
        tables, chart = pattern_text(400, 600, 20).split("[[pieces]]")
        wrong = chart.replace("A", "?").replace("\nB", "\nBB")
        path.write_text(f"{tables}[[pieces]]{wrong}", encoding="utf-8")
        cost = milliseconds(lambda: read_faults(path), 3)
        print(f"400 x 600 knots with {read_faults(path)} problems, warm: {cost:.2f} ms")
        path.write_text(pattern_text(60, 90, 6), encoding="utf-8")
        script = COLD.format(path=str(path))
        done = subprocess.run([sys.executable, "-c", script], check=True, capture_output=True)
        known, read = done.stdout.decode().split()
        print(f"from cold: {known} ms to import the room, {read} ms with a 60 x 90 pattern read")


if __name__ == "__main__":
    main()
