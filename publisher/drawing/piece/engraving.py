"""Paint knotted cloth in lines alone, for a page without colour."""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import letter_runs, number, point
from publisher.drawing.base.yarn_signs import BUMPS
from publisher.drawing.piece.knotwork import COARSE_MM, Cloth
from publisher.drawing.piece.picture import greys, paint_picture
from publisher.model.colour import Colour

_THINNEST, _THICKEST = 0.03, 0.26
_LIGHT = 0.22
_PART = 0.16
_OUTLINE_MM, _FRAME_MM = 0.22, 0.15
_MOST_OUTLINED = 6000


def engrave_cloth(
    canvas: FigureCanvas, cloth: Cloth, paints: Mapping[str, Colour], ink: Colour, paper: Colour
) -> None:
    """Two lines a row, thicker the darker a colour is, parted at every column; none where it is
    light; and an outline round every patch of colour."""
    if cloth.cell_height < COARSE_MM:
        paint_picture(canvas, cloth.plan.cells, greys(paints), cloth.box)
        return
    plan = cloth.plan
    tones = _tones({letter: paints[letter] for letter in plan.knots})
    grid = canvas.group(transform=cloth.grid())
    for letter, path in _lines(plan.cells).items():
        if tones[letter] > _LIGHT:
            grid.stroke(path, ink, _THINNEST + (_THICKEST - _THINNEST) * tones[letter])
    parts = "".join(f"M{column} 0V{plan.rows}" for column in range(1, plan.columns))
    grid.stroke(parts, paper, _PART)
    canvas.stroke(_outlines(cloth), ink, _OUTLINE_MM, stroke_linecap="square")
    left, top, wide, tall = (number(edge) for edge in cloth.box)
    canvas.stroke(f"M{left} {top}h{wide}v{tall}h-{wide}Z", ink, _FRAME_MM)


def _tones(paints: Mapping[str, Colour]) -> dict[str, float]:
    """0 for the lightest colour to 1 for the darkest, evenly as the eye sees them."""
    light = {letter: paint.luminance ** (1 / 3) for letter, paint in paints.items()}
    lightest, darkest = max(light.values()), min(light.values())
    span = (lightest - darkest) or 1.0
    return {letter: (lightest - value) / span for letter, value in light.items()}


def _lines(cells: Iterable[str]) -> dict[str, str]:
    lines: dict[str, list[str]] = {}
    for row, letters in enumerate(cells):
        for letter, first, end in letter_runs(letters):
            for bump in BUMPS:
                lines.setdefault(letter, []).append(f"M{first} {number(row + 0.5 + bump)}H{end}")
    return {letter: "".join(lines[letter]) for letter in sorted(lines)}


def _outlines(cloth: Cloth) -> str:
    """Lines between neighbours of different colours, unless there are very many."""
    rows = cloth.plan.cells
    columns = ["".join(column) for column in zip(*rows, strict=True)]
    level = list(_edges(rows))
    upright = list(_edges(columns))
    if len(level) + len(upright) > _MOST_OUTLINED:
        return ""
    wide, tall = cloth.cell_width, cloth.cell_height

    def start(column: int, row: int) -> str:
        return f"M{point(cloth.left + column * wide, cloth.top + row * tall)}"

    path = [f"{start(first, line)}h{number(long * wide)}" for line, first, long in level]
    path += [f"{start(line, first)}v{number(long * tall)}" for line, first, long in upright]
    return "".join(path)


def _edges(lines: Iterable[str]) -> Iterable[tuple[int, int, int]]:
    """(line, first, length) of every stretch where a line of cells differs from the one before."""
    for index, (before, after) in enumerate(itertools.pairwise(lines), 1):
        differs = "".join("01"[one != other] for one, other in zip(before, after, strict=True))
        for flag, first, end in letter_runs(differs):
            if flag == "1":
                yield index, first, end - first
