"""Print what a booklet costs: warm, cold, and a chart of 400 x 600. Figures, never pass or fail.

python tests/benchmarks/bench_booklet.py
"""

from __future__ import annotations

import dataclasses
import itertools
import math
import os
import random
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[2]))

from bench_peers import beside_peers

from publisher.knots import load_knots
from publisher.layout import lay_out
from publisher.manuscript import write_manuscript
from publisher.model.pattern import Pattern
from publisher.plan import make_plan
from publisher.press import print_book
from publisher.store import NO_STORE, Memory, Store
from tests.support.shop import DATE, demo, installed

LETTERS = "NGBOTM"


def picture(columns: int, rows: int, letters: str = LETTERS) -> tuple[str, ...]:
    """Big calm shapes: tide bands that rise and fall, with a round sun, as in real patterns."""
    lines = []
    for row in range(rows):
        line = ""
        for column in range(columns):
            wave = math.sin(column / columns * 5.0) * rows / 18
            band = int((row + wave) / rows * len(letters)) % len(letters)
            if math.hypot(column - columns * 0.6, (row - rows * 0.3) * 0.75) < columns * 0.18:
                band = (band + 3) % len(letters)
            line += letters[band]
        lines.append(line)
    return tuple(lines)


def bench_pattern(columns: int, rows: int, turn: int = 0) -> Pattern:
    """`turn`: rows that are moved from the top to the bottom, for another picture."""
    pattern = demo("kingfisher-over-reeds")
    charts = [piece for piece in pattern.pieces if hasattr(piece, "cells")]
    cells = picture(columns, rows)
    piece = dataclasses.replace(charts[0], cells=cells[turn:] + cells[:turn])
    return dataclasses.replace(pattern, slug=f"bench-{columns}x{rows}", pieces=(piece,))


def one(pattern: Pattern, store: Store = NO_STORE) -> tuple[int, int, dict[str, float]]:
    """Pages, bytes and CPU seconds of each step."""
    marks = [time.process_time()]
    plan = make_plan(pattern)
    marks.append(time.process_time())
    manuscript = write_manuscript(
        pattern, plan, load_knots(), installed(), "booklet", "a4", date=DATE, store=store
    )
    marks.append(time.process_time())
    book = lay_out(manuscript, installed(), store)
    marks.append(time.process_time())
    pdf = print_book(book, store)
    marks.append(time.process_time())
    names = ("plan", "manuscript", "layout", "press")
    steps = {name: marks[n + 1] - marks[n] for n, name in enumerate(names)}
    return len(book.pages), len(pdf), steps


def megabytes() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def warm() -> None:
    """Booklets in a process that has made some: each of another picture, so that charts are never
    known; with all pages drawn anew, and as it is for a catalogue, whose books share knot pages."""
    turns, memory = iter(range(1, 90)), Memory()

    def anew() -> tuple[int, int, dict[str, float]]:
        return one(bench_pattern(60, 90, next(turns)))

    def next_book() -> tuple[int, int, dict[str, float]]:
        return one(bench_pattern(60, 90, next(turns)), Store(memory))

    def again() -> tuple[int, int, dict[str, float]]:
        return one(bench_pattern(60, 90), Store(memory))

    for name, way in (
        ("all pages drawn anew", anew),
        ("one book after another", next_book),
        ("pages known, as after a change of frames", again),
    ):
        runs = [way() for _ in range(9)][2:]
        best = min(runs, key=lambda run: sum(run[2].values()))
        pages, size, steps = best
        total = sum(steps.values())
        told = ", ".join(f"{step} {seconds * 1000:.0f} ms" for step, seconds in steps.items())
        print(f"60 x 90, 6 colours, {name}: {pages} pages, {size / 1000:.0f} kB, {told}")
        print(f"  {total:.3f} s CPU: {pages / total:.0f} pages/s a core, {megabytes():.0f} MB")


def cold() -> None:
    """As for a user: in a process that may keep its compiled modules."""
    environment = {**os.environ}
    environment.pop("PYTHONDONTWRITEBYTECODE", None)
    with tempfile.TemporaryDirectory() as folder:
        best, spent = float("inf"), [0.0]
        for attempt in range(5):
            started = time.perf_counter()
            subprocess.run(
                [
                    sys.executable,
                    "-m",
                    "publisher",
                    "build",
                    "heron-step",
                    "--out",
                    f"{folder}/{attempt}",
                ],
                check=True,
                capture_output=True,
                env=environment,
            )
            best = min(best, time.perf_counter() - started)
            used = resource.getrusage(resource.RUSAGE_CHILDREN)
            spent.append(used.ru_utime + used.ru_stime)
    least = min(after - before for before, after in itertools.pairwise(spent))
    print(f"cold start, heron-step with its companion files: {best:.2f} s, {least:.2f} s CPU")


def large() -> None:
    """The second has a note in nearly every row for every few cords."""
    pattern = bench_pattern(400, 600)
    for what, larger in (("", pattern), (", 10 % noise", noisy(pattern, 0.1))):
        pages, size, steps = one(larger)
        told = ", ".join(f"{name} {seconds:.2f} s" for name, seconds in steps.items())
        weight = f"{size / 1e6:.1f} MB, {told}; peak {megabytes():.0f} MB"
        print(f"400 x 600{what}: {pages} pages, {weight}")


def noisy(pattern: Pattern, share: float) -> Pattern:
    """Some cells in any of the colours; the same every time."""
    chance, piece = random.Random(1), pattern.charts[0]
    letters = "".join(colour.letter for colour in pattern.colours)
    cells = tuple(
        "".join(chance.choice(letters) if chance.random() < share else cell for cell in row)
        for row in piece.cells
    )
    return dataclasses.replace(pattern, pieces=(dataclasses.replace(piece, cells=cells),))


if __name__ == "__main__":
    cold()
    warm()
    large()
    beside_peers()
