"""Read a printed chart back through pdfium: where its rows and cords are, and the yarns' marks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby, pairwise

import numpy as np
from pypdfium2 import PdfDocument, PdfPage

from tests.support.printed import MM_PER_PT, Letter, Sheet, elements, letters, opened

KINDS = {
    "▸": "start",
    "◂": "start",
    "▹": "pick up",
    "◃": "pick up",
    "▪": "join",
    "●": "leave",
}
"""What the legend under a chart says of its marks."""
_RIGHTWARD, _LEFTWARD = "▸▹", "◂◃"
_BESIDE_MM = 28.0


@dataclass(frozen=True, slots=True)
class Mark:
    row: int
    cord: int
    kind: str


@dataclass(frozen=True, slots=True)
class Number:
    """A printed whole number: where its figures begin and end, their middle and their base line, in
    points."""

    text: str
    left: float
    right: float
    y: float
    base: float

    @property
    def x(self) -> float:
        return (self.left + self.right) / 2


@dataclass(frozen=True, slots=True)
class Tile:
    """A chart on a page: its cords' middles from the left, its rows' middles from the top, the side
    that each starts from and where its number ends on the way to the cells, and the lines of cord
    numbers below and above. In points, y upwards.
    """

    cords: dict[int, float]
    rows: dict[int, tuple[float, str, float]]
    bottom: float
    top: float


def read_charts(pdf: bytes, columns: int) -> list[tuple[Tile, list[Mark]]]:
    """Every tile of a book with its marks. `columns`: how many cords the charts have."""
    with opened(pdf) as document:
        return [
            (tile, list(_marks(tile, signs)))
            for _, signs, tiles in _chart_pages(document, columns)
            for tile in tiles
        ]


def row_arrows(pdf: bytes, columns: int) -> dict[int, set[str]]:
    """Which way the arrows between rows' numbers and cells point, as they are seen, by row.

    Row 1 has a tag where the work starts, and no arrow there.
    """
    found: dict[int, set[str]] = {}
    with opened(pdf) as document:
        for page, _, tiles in _chart_pages(document, columns):
            sheet = Sheet.of(page, 300)
            for tile in tiles:
                left, right = min(tile.cords.values()), max(tile.cords.values())
                half = (right - left) / (len(tile.cords) - 1) / 2
                for row, (y, start, number) in tile.rows.items():
                    ends = (number, left - half) if start == "left" else (right + half, number)
                    if row > 1:
                        found.setdefault(row, set()).add(_points(sheet, *ends, y))
    return found


def _points(sheet: Sheet, left: float, right: float, y: float) -> str:
    """An arrow is high at its head and low along its stem. It keeps off numbers and cells; yarns'
    marks may stand out from the cells."""
    scale, reach, off = sheet.dpi / 72, 4.0, 1.9
    box = (left + off, sheet.height_pt - y - reach, right - off, sheet.height_pt - y + reach)
    seen = sheet.picture.crop(tuple(round(side * scale) for side in box)).convert("L")
    dark = np.asarray(seen) < 100
    heights = dark.sum(axis=0)
    drawn = np.flatnonzero(heights)
    arrow = max(np.split(drawn, np.flatnonzero(np.diff(drawn) > 1) + 1), key=len)
    assert arrow.size, "no arrow is there"
    assert arrow[0] > 0 and arrow[-1] < heights.size - 1, "it runs into its number or the cells"
    head = arrow[heights[arrow] > 0.6 * heights[arrow].max()]
    return "right" if head.mean() > (arrow[0] + arrow[-1]) / 2 else "left"


def _chart_pages(
    document: PdfDocument, columns: int
) -> Iterator[tuple[PdfPage, list[Letter], list[Tile]]]:
    """The pages under a chart's title, with the characters and the tiles on them."""
    for page in document:
        titles = [one.text for one in elements(page) if one.role in ("H1", "H2")]
        if any(title.startswith(("Chart", "The chart")) for title in titles):
            signs = letters(page)
            yield page, signs, list(_tiles(list(_numbers(signs)), columns))


def _numbers(signs: Sequence[Letter]) -> Iterator[Number]:
    text = sorted(
        (sign for sign in signs if sign.is_text), key=lambda one: (_base(one), one.box[0])
    )
    for base, line in groupby(text, key=_base):
        word: list[Letter] = []
        for sign in [*line, None]:
            if sign and word and sign.box[0] - word[-1].box[2] < 0.3 * sign.size_pt:
                word.append(sign)
                continue
            figures = "".join(one.text for one in word)
            if figures.isdecimal():
                left, bottom, right, top = zip(*(one.box for one in word), strict=True)
                yield Number(figures, min(left), max(right), (min(bottom) + max(top)) / 2, base)
            word = [sign] if sign else []


def _base(sign: Letter) -> float:
    return round(sign.base_pt, 1)


def _tiles(numbers: Sequence[Number], columns: int) -> Iterator[Tile]:
    """Cords are numbered in a line above and again in one below, in the same places. What stands
    between is no other chart, though it has numbers too."""
    by_height = sorted(numbers, key=lambda one: (-one.base, one.x))
    lines = [list(line) for _, line in groupby(by_height, key=lambda one: one.base)]
    rest = [line for line in lines if _is_cord_line(line, columns)]
    while rest:
        above = rest.pop(0)
        below = next((line for line in rest if _same(above, line)), None)
        if below is None:
            continue
        rest.remove(below)
        first = int(above[0].text)
        cords = {first + at: one.x for at, one in enumerate(above)}
        bottom, top = below[0].y, above[0].y
        inside = [one for one in numbers if bottom < one.y < top]
        rows = dict(_rows(inside, cords))
        if _are_rows(rows):
            yield Tile(cords, rows, bottom, top)
            rest = [line for line in rest if line[0].y < bottom]


def _is_cord_line(line: Sequence[Number], columns: int) -> bool:
    """Numbers one after the other; of those from 100 on, some with their last two figures alone."""
    first = int(line[0].text)
    return first + len(line) - 1 <= columns and all(
        one.text in (str(first + at), str(first + at)[-2:]) for at, one in enumerate(line)
    )


def _same(one: Sequence[Number], other: Sequence[Number]) -> bool:
    return [n.text for n in one] == [n.text for n in other] and all(
        abs(a.x - b.x) < 0.5 for a, b in zip(one, other, strict=True)
    )


def _rows(
    numbers: Sequence[Number], cords: dict[int, float]
) -> Iterator[tuple[int, tuple[float, str, float]]]:
    """A row's number stands where the row starts."""
    left, right = min(cords.values()), max(cords.values())
    reach = _BESIDE_MM / MM_PER_PT
    for one in sorted(numbers, key=lambda one: -one.y):
        if left - reach < one.x < left:
            yield int(one.text), (one.y, "left", one.right)
        elif right < one.x < right + reach:
            yield int(one.text), (one.y, "right", one.left)


def _are_rows(rows: dict[int, tuple[float, str, float]]) -> bool:
    """Numbers one after the other, downwards, as far apart each."""
    places = [y for y, _, _ in rows.values()]
    steps = [above - below for above, below in pairwise(places)]
    counted = list(rows) == list(range(min(rows, default=0), max(rows, default=0) + 1))
    return bool(rows) and counted and max(steps, default=0.0) - min(steps, default=0.0) < 1.0


def _marks(tile: Tile, signs: Sequence[Letter]) -> Iterator[Mark]:
    """Each mark stands on an edge of its cell: above the middle where a yarn comes into the cell,
    below it where the yarn goes out."""
    for sign in signs:
        x, y = sign.middle
        if sign.is_text or sign.text not in KINDS or not tile.bottom < y < tile.top:
            continue
        row = min(tile.rows, key=lambda one: abs(tile.rows[one][0] - y))
        middle, start, _ = tile.rows[row]
        kind, comes_in = KINDS[sign.text], y > middle
        assert comes_in == (kind != "leave")
        assert sign.text not in (_LEFTWARD if start == "left" else _RIGHTWARD)
        right_of = min(tile.cords) - 1 + sum(cord < x for cord in tile.cords.values())
        yield Mark(row, right_of + (comes_in == (start == "left")), kind)
