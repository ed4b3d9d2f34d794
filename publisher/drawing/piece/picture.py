"""Paint a whole chart small, without lines or signs: as strokes, or as one picture."""

from __future__ import annotations

import base64
import math
from collections import Counter
from collections.abc import Mapping
from functools import lru_cache

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import number, run_paths
from publisher.model.colour import Colour
from publisher.png import write_palette_png

_OVERLAP = 1.06


def paint_picture(
    canvas: FigureCanvas,
    cells: tuple[str, ...],
    paints: Mapping[str, Colour],
    box_mm: tuple[float, float, float, float],
    pixels_per_mm: float = 12.0,
    most_runs: int = 3000,
    mirrored: bool = False,
) -> None:
    """Fill a box (left, top, width, height) with the chart; mirrored: as seen from the back.

    A chart with too many runs for strokes becomes a picture of no more than so many pixels.
    """
    left, top, width, height = box_mm
    if _run_count(cells) > most_runs:
        most = max(1, int(width * pixels_per_mm)), max(1, int(height * pixels_per_mm))
        canvas.image(left, top, width, height, _png(cells, tuple(paints.items()), most, mirrored))
        return
    rows = [row[::-1] for row in cells] if mirrored else cells
    counts = Counter("".join(rows))
    ground = max(sorted(counts), key=counts.__getitem__)
    canvas.fill(
        f"M{number(left)} {number(top)}h{number(width)}v{number(height)}h{number(-width)}Z",
        paints[ground],
    )
    scale = f"scale({number(width / len(rows[0]), 5)} {number(height / len(rows), 5)})"
    grid = canvas.group(transform=f"translate({number(left)} {number(top)}) {scale}")
    paths = run_paths((row, 0, letters) for row, letters in enumerate(rows))
    for letter, path in paths.items():
        if letter != ground:
            grid.stroke(path, paints[letter], _OVERLAP)


def greys(paints: Mapping[str, Colour]) -> dict[str, Colour]:
    """Light greys that keep the colours' order, for a page without colour."""
    found = {}
    for letter, paint in paints.items():
        level = round(255 * (0.62 + 0.34 * min(1.0, paint.luminance / 0.5)))
        found[letter] = Colour(level, level, level)
    return found


@lru_cache(maxsize=8)
def _run_count(cells: tuple[str, ...]) -> int:
    return sum(sum(map(str.__ne__, row, row[1:])) + 1 for row in cells)


@lru_cache(maxsize=8)
def _png(
    cells: tuple[str, ...],
    paints: tuple[tuple[str, Colour], ...],
    most: tuple[int, int],
    mirrored: bool,
) -> str:
    """A pixel a knot, or for every second, third, … knot, as a data: address."""
    columns, rows = (
        range(0, count, max(1, math.ceil(count / limit)))
        for count, limit in zip((len(cells[0]), len(cells)), most, strict=True)
    )
    table = {ord(letter): chr(index) for index, (letter, _) in enumerate(paints)}
    taken = slice(columns.start, columns.stop, columns.step)
    lines = [cells[row][taken].translate(table) for row in rows]
    pixels = "".join(line[::-1] if mirrored else line for line in lines).encode("latin-1")
    colours = bytes(part for _, paint in paints for part in (paint.red, paint.green, paint.blue))
    png = write_palette_png(len(columns), len(rows), pixels, colours)
    return "data:image/png;base64," + base64.b64encode(png).decode("ascii")
