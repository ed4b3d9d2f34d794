"""Print what plans cost in processor time and memory, from 60 x 90 to 800 x 600 cells.

    python tests/benchmarks/bench_plan.py [--full] [--shapes]

Each size in a process of its own: patches of colour, a tenth of the cells anything at all.
`--full` adds charts of more noise. `--shapes` plans instead what is hardest for routes and pairs:
checkers, stripes, dithering, dots, chance. Figures only; nothing passes or fails.
"""

from __future__ import annotations

import json
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path

SIZES = [
    (60, 90, 6),
    (100, 100, 20),
    (200, 200, 20),
    (400, 300, 20),
    (400, 600, 20),
    (800, 600, 20),
]
NOISY = [(400, 600, 20, 0.2), (400, 600, 20, 0.3), (400, 600, 6, 0.3)]
LETTERS = "ABCDEFGHIJKLMNOPQRST"
SHAPED = [(100, 100), (200, 200), (400, 600)]
SHAPES = [
    ("checker", 2, 1),
    *(("diagonal", colours, wide) for wide in (1, 2, 5) for colours in (2, 3, 5, 20)),
    *(("upright", colours, 1) for colours in (2, 3, 5, 20)),
    *(("dithered", colours, 1) for colours in (2, 3, 6, 20)),
    *(("dots", colours, percent) for colours, percent in ((2, 1), (6, 5), (20, 5), (6, 10))),
    *(("chance", colours, 1) for colours in (2, 4, 6, 20)),
]
"""Name, colours, and how wide a stripe is or how many cells in a hundred are dots."""
BAYER = ((0, 8, 2, 10), (12, 4, 14, 6), (3, 11, 1, 9), (15, 7, 13, 5))
"""Ordered dithering by fours: Bayer (1973)."""


def chart(columns: int, rows: int, colours: int, noise: float) -> tuple[str, ...]:
    """Patches round scattered points, some 250 cells each, and noise; the same every time."""
    import numpy as np

    rng = np.random.default_rng(1)
    points = max(colours, columns * rows // 250)
    x, y = rng.uniform(0, columns, points), rng.uniform(0, rows, points)
    own = rng.integers(0, colours, points)
    across, down = np.arange(columns)[None, :], np.arange(rows)[:, None]
    nearest = np.full((rows, columns), np.inf)
    cells = np.zeros((rows, columns), int)
    for at in range(points):
        top, left = max(0, int(y[at]) - 70), max(0, int(x[at]) - 70)
        window = (slice(top, top + 140), slice(left, left + 140))
        apart = (across[:, window[1]] - x[at]) ** 2 + (down[window[0]] - y[at]) ** 2
        closer = apart < nearest[window]
        nearest[window][closer] = apart[closer]
        cells[window][closer] = own[at]
    anything = rng.random((rows, columns)) < noise
    cells[anything] = rng.integers(0, colours, anything.sum())
    return tuple("".join(LETTERS[cell] for cell in row) for row in cells)


def shape(name: str, columns: int, rows: int, colours: int, size: int) -> tuple[str, ...]:
    """One of the shapes that are hardest to plan; the same every time."""
    import numpy as np

    rng = np.random.default_rng(1)
    x, y = np.arange(columns)[None, :], np.arange(rows)[:, None]
    if name == "dots":
        cells = np.zeros((rows, columns), int)
        dots = rng.random((rows, columns)) < size / 100
        cells[dots] = rng.integers(1, colours, dots.sum())
    elif name == "dithered":
        shade = (x / columns + y / rows) / 2 * (colours - 1)
        cells = (shade + (np.array(BAYER)[y % 4, x % 4] + 0.5) / 16).astype(int)
    elif name == "chance":
        cells = rng.integers(0, colours, (rows, columns))
    else:
        cells = ((x + (0 if name == "upright" else y)) // size + 0 * y) % colours
    return tuple("".join(LETTERS[cell] for cell in row) for row in cells)


def measure(cells: tuple[str, ...]) -> dict[str, float]:
    import resource

    sys.path.insert(0, str(Path(__file__).parents[2]))
    from tests.support.grids import pattern_of

    columns, rows = len(cells[0]), len(cells)
    pattern = pattern_of(*cells)
    # Cells of 3 mm cord, not the tests' whole millimetres.
    pattern = replace(pattern, pieces=(replace(pattern.pieces[0], gauge=_no_swatch()),))
    from publisher.plan import make_plan

    times = []
    for _ in range(5 if columns * rows < 20_000 else 1):
        start = time.process_time()
        plan = make_plan(pattern)
        times.append(time.process_time() - start)
    (piece,) = plan.charts
    return {
        "cells": columns * rows,
        "yarns": len(piece.yarns),
        "ends": len(piece.ends),
        "single": len(piece.single_ends),
        "seconds": min(times),
        "us_a_cell": min(times) / (columns * rows) * 1e6,
        "peak_mb": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024,
    }


def _no_swatch() -> object:
    from publisher.model.pattern import Gauge

    return Gauge()


def cold() -> float:
    """Seconds from nothing to the plan of a 60 x 90 chart: imports, reading aside."""
    code = (
        "import sys, time, json; cells = json.loads(sys.argv[1]); t = time.perf_counter();"
        "from tests.support.grids import pattern_of; from publisher.plan import make_plan;"
        "make_plan(pattern_of(*cells)); print(time.perf_counter() - t)"
    )
    support = str(Path(__file__).parents[2])
    cells = json.dumps(chart(60, 90, 6, 0.1))
    code = f"import sys; sys.path.insert(0, {support!r}); import hypothesis; {code}"
    call = [sys.executable, "-c", code, cells]
    runs = [subprocess.run(call, check=True, capture_output=True, text=True) for _ in range(3)]
    return min(float(run.stdout) for run in runs)


def case(words: list[str]) -> tuple[str, ...]:
    """The chart that a line of figures is about: of patches and noise, or one of the shapes."""
    columns, rows, colours = map(int, words[:3])
    if len(words) == 4:
        return chart(columns, rows, colours, float(words[3]))
    return shape(words[3], columns, rows, colours, int(words[4]))


def main() -> None:
    if "--one" in sys.argv:
        print(json.dumps(measure(case(sys.argv[sys.argv.index("--one") + 1 :]))))
        return
    if "--shapes" in sys.argv:
        cases = [
            (*sizes, colours, name, size) for sizes in SHAPED for name, colours, size in SHAPES
        ]
    else:
        print(f"cold, imports and plan of 60 x 90: {cold():.3f} s")
        cases = [(*size, 0.1) for size in SIZES] + (NOISY if "--full" in sys.argv else [])
    print(f"{'size':>10} colours{'what':>12}  yarns    ends  single  seconds  µs/cell  peak MB")
    for columns, rows, colours, *what in cases:
        call = [sys.executable, __file__, "--one", *map(str, (columns, rows, colours, *what))]
        run = subprocess.run(call, check=True, capture_output=True, text=True)
        found = json.loads(run.stdout)
        print(
            f"{columns:>5} x {rows:<3}{colours:>7}{' '.join(map(str, what)):>12}{found['yarns']:>7}"
            f"{found['ends']:>8}{found['single']:>8}{found['seconds']:>9.3f}{found['us_a_cell']:>9.1f}"
            f"{found['peak_mb']:>9.0f}",
            flush=True,
        )


if __name__ == "__main__":
    main()
