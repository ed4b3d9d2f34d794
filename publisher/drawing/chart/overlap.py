"""Show what a tile shares with its neighbours: a tint, dashed lines, and words that say where."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Literal

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import number
from publisher.drawing.chart.view import View
from publisher.fonts import text_width_mm
from publisher.frozen import frozen

_DASHES = "1.1 0.8"
_DASH_MM = 0.3
_DASH_OUT_MM = 0.4
_BETWEEN_MM = 5.0
_NAME_FACE, _NAME_GAP_MM = "bold", 3.0
_WORDINGS = ("", "_short", "_brief")


@frozen
class Shared:
    """Cords or rows that stand on another tile too. `here`: are they worked from this one?"""

    what: Literal["cord", "row"]
    first: int
    last: int
    chart: int
    here: bool

    @property
    def edge(self) -> int:
        """The line between this tile's and the other's own cells: before this cord or row."""
        return self.last + 1 if self.here else self.first


def shared_parts(view: View) -> list[Shared]:
    """Return what the tile shares with the tiles to its left, to its right, above and below."""
    tile, last = view.tile, view.tiles.overlap - 1
    found: list[Shared] = []
    if last < 0:
        return found
    if tile.left:
        found.append(Shared("cord", tile.first_cord, tile.first_cord + last, tile.left, True))
    if tile.right:
        found.append(Shared("cord", tile.last_cord - last, tile.last_cord, tile.right, False))
    if tile.above:
        found.append(Shared("row", tile.first_row, tile.first_row + last, tile.above, True))
    if tile.below:
        found.append(Shared("row", tile.last_row - last, tile.last_row, tile.below, False))
    return found


def paint_tint(canvas: FigureCanvas, view: View) -> None:
    """The tint, under everything: in the gutters, and under cells where those have no fill."""
    boxes = []
    for part in shared_parts(view):
        if part.what == "cord":
            left, right = view.x(part.first), view.x(part.last + 1)
            boxes.append(_box(left, view.top - view.room.band_above, right, view.top))
            boxes.append(_box(left, view.bottom, right, view.bottom + view.room.band_below))
            inner = _box(left, view.top, right, view.bottom)
        else:
            top, bottom = view.y(part.first), view.y(part.last + 1)
            boxes.append(_box(view.left - view.room.side, top, view.left, bottom))
            boxes.append(_box(view.right, top, view.right + view.room.side, bottom))
            inner = _box(view.left, top, view.right, bottom)
        if view.look.mono and not part.here:
            boxes.append(inner)
    canvas.fill("".join(boxes), view.look.colours["band"])


def paint_dashes(canvas: FigureCanvas, view: View) -> None:
    """A line through the gutters where another tile's own cells begin."""
    lines = []
    for part in shared_parts(view):
        if part.what == "cord":
            top = view.top - view.room.band_above - _DASH_OUT_MM
            bottom = view.bottom + view.room.band_below + _DASH_OUT_MM
            lines.append(f"M{number(view.x(part.edge))} {number(top)}V{number(bottom)}")
        else:
            y = number(view.y(part.edge))
            lines.append(f"M{number(view.left - view.room.side)} {y}")
            lines.append(f"H{number(view.right + view.room.side)}")
    ink = view.look.colours["ink"]
    canvas.stroke("".join(lines), ink, _DASH_MM, stroke_dasharray=_DASHES)


def paint_words(canvas: FigureCanvas, view: View, words: Mapping[str, str]) -> None:
    """Say on which chart the shared cords and rows stand, above the grid and below it."""
    style = view.look.type[view.look.chart.overlap_words]
    ink = view.look.colours[style.colour]
    name = _name(view, words)
    if name:
        y, own = view.top - view.room.words_above, view.look.colours["ink"]
        canvas.text(0.0, y, name, _NAME_FACE, style.size_pt, own)
    for y, left, right in _lines(view, words):
        x = _left(view, words) if y < view.top else view.left
        canvas.text(x, y, left, style.face, style.size_pt, ink)
        if right:
            canvas.text(view.right, y, right, style.face, style.size_pt, ink, "right")


def _lines(view: View, words: Mapping[str, str]) -> Iterator[tuple[float, str, str]]:
    """(base line, text at the left, text at the right), in the longest wording that fits."""
    parts = shared_parts(view)
    cords = [part for part in parts if part.what == "cord"]
    rows = [part for part in parts if part.what == "row"]
    above = view.top - view.room.words_above
    below = view.bottom + view.room.words_below
    for y, found in ((above, cords), (below, rows)):
        if not found:
            continue
        at_left = y == below or found[0].here
        wordings = ([_say(part, words, kind) for part in found] for kind in _WORDINGS)
        room = view.right - (_left(view, words) if y == above else view.left)
        said = next((texts for texts in wordings if _fits(texts, view, room)), None)
        said = said or [words["shared_bare"].format(chart=part.chart) for part in found]
        if len(said) == 2:
            yield y, said[0], said[1]
        else:
            yield (y, said[0], "") if at_left else (y, "", said[0])


def _name(view: View, words: Mapping[str, str]) -> str:
    """Return which chart it is, where others stand on the same page."""
    shared = len(view.tiles.page_of(view.tile)) > 1
    return words["name"].format(n=view.tile.number) if shared else ""


def _left(view: View, words: Mapping[str, str]) -> float:
    """Return where words above the grid begin: right of the chart's name."""
    name = _name(view, words)
    if not name:
        return view.left
    size_pt = view.look.type[view.look.chart.overlap_words].size_pt
    return max(view.left, text_width_mm(name, _NAME_FACE, size_pt) + _NAME_GAP_MM)


def _say(part: Shared, words: Mapping[str, str], kind: str) -> str:
    many = {0: "one", 1: "two"}.get(part.last - part.first, "many")
    text = words[f"shared_{part.what}_{many}{kind}"]
    return text.format(first=part.first, last=part.last, chart=part.chart)


def _fits(texts: list[str], view: View, room_mm: float) -> bool:
    style = view.look.type[view.look.chart.overlap_words]
    wide = sum(text_width_mm(text, style.face, style.size_pt) for text in texts)
    return wide + _BETWEEN_MM * (len(texts) - 1) <= room_mm


def _box(left: float, top: float, right: float, bottom: float) -> str:
    return f"M{number(left)} {number(top)}H{number(right)}V{number(bottom)}H{number(left)}Z"
