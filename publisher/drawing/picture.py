"""Paint a whole chart small, without lines or signs: as strokes, or as one picture."""

from __future__ import annotations

import base64
import io
from collections import Counter
from collections.abc import Mapping, Sequence

from publisher.colour import Colour
from publisher.drawing.canvas import Canvas
from publisher.drawing.numbers import number
from publisher.drawing.runs import run_paths

_MOST_RUNS = 6000
_OVERLAP = 1.06


def paint_picture(
    canvas: Canvas,
    cells: Sequence[str],
    paints: Mapping[str, Colour],
    box_mm: tuple[float, float, float, float],
    mirrored: bool = False,
) -> None:
    """Fill a box (left, top, width, height) with the chart; mirrored: as seen from the back."""
    left, top, width, height = box_mm
    rows = [row[::-1] for row in cells] if mirrored else list(cells)
    if sum(map(_changes, rows)) > _MOST_RUNS:
        canvas.image(left, top, width, height, _png(rows, paints))
        return
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


def _changes(row: str) -> int:
    return sum(map(str.__ne__, row, row[1:])) + 1


def _png(rows: Sequence[str], paints: Mapping[str, Colour]) -> str:
    """One pixel a knot, as a data: address."""
    from PIL import Image

    letters = sorted(paints)
    table = {ord(letter): chr(index) for index, letter in enumerate(letters)}
    pixels = "".join(rows).translate(table).encode("latin-1")
    image = Image.frombytes("P", (len(rows[0]), len(rows)), pixels)
    channels = (paints[letter] for letter in letters)
    image.putpalette(
        [value for paint in channels for value in (paint.red, paint.green, paint.blue)]
    )
    file = io.BytesIO()
    image.save(file, "PNG", optimize=True)
    return "data:image/png;base64," + base64.b64encode(file.getvalue()).decode("ascii")
