"""Break text into lines by real font metrics."""

from __future__ import annotations

import unicodedata
from bisect import bisect_right
from collections.abc import Iterator, Sequence, Set
from functools import lru_cache

from publisher.fonts import shaper, text_width_em
from publisher.fonts.shaping import MM_PER_PT
from publisher.frozen import frozen
from publisher.manuscript.blocks import Text
from publisher.model.look import TypeStyle

_PAGE_STAND_IN = "00"  # page numbers are filled in later, in the room of two figures
_SHORT_LAST_LINE = 0.2  # a last line under this share of the width looks like a mistake
_A_LINE = 0.02  # a little a line: never more lines than are needed
_ELLIPSIS = "…"
_REMEMBERED = 1024
"""Texts in lines: half of a book's are the same in all books, or come again in its rows."""


@frozen
class TextRun:
    """Text in one face, with its link or page number to come."""

    text: str
    face: str
    target: str | None = None
    page_of: str | None = None


@frozen
class Line:
    """Runs beside one another. `word_goes_on`: the last word ends in the next line."""

    runs: tuple[TextRun, ...]
    width_mm: float
    word_goes_on: bool = False

    @property
    def text(self) -> str:
        return "".join(run.text for run in self.runs)


@frozen
class PlacedLine:
    """A line at its place in something larger: from that thing's corner to its base line, in mm."""

    x: float
    y: float
    line: Line
    role: str


def text_width(text: str, style: TypeStyle) -> float:
    """Width in mm of a text in a role's plain face."""
    return text_width_em(text, style.face) * style.size_pt * MM_PER_PT


def one_line(text: str, style: TypeStyle, *, strong: bool = False) -> Line:
    """A text as one line, never broken."""
    face = style.strong if strong else style.face
    return Line((TextRun(text, face),), text_width_em(text, face) * style.size_pt * MM_PER_PT)


def shortened(text: str, style: TypeStyle, width_mm: float) -> Line:
    """A text as one line no wider than that: cut after a word, or in the first word, if need be."""
    if text_width(text, style) <= width_mm:
        return one_line(text, style)
    ends = [at for at, sign in enumerate(text) if sign == " "]
    first = ends[0] if ends else len(text)
    ends = [at for at in range(1, first) if _may_part(text, at)] + ends
    fitting = bisect_right(
        ends, width_mm, key=lambda end: text_width(text[:end] + _ELLIPSIS, style)
    )
    return one_line(text[: ends[max(fitting, 1) - 1]] + _ELLIPSIS if ends else text, style)


def whole_line(text: Text, style: TypeStyle) -> Line:
    """Spans as one line, never broken."""
    lines = break_lines(text, style, float("inf"))
    return lines[0] if lines else Line((), 0.0)


@lru_cache(maxsize=_REMEMBERED)
def break_lines(
    text: Text, style: TypeStyle, width_mm: float, *, even: bool = True
) -> tuple[Line, ...]:
    """Lines no wider than `width_mm`. A word that is wider goes on in the next line, for want of
    anything better.

    `even` spreads the words so that the ragged edge is quiet (least sum of squared gaps);
    otherwise each line takes as many words as it can.
    """
    pieces, widths = _measured(text, style)
    if not widths:
        return ()
    scale = style.size_pt * MM_PER_PT
    space = shaper(style.face).space.advance_em * scale
    total = sum(widths) + space * (len(widths) - 1)
    if total <= width_mm:
        return (Line(_runs(pieces), total),)
    parted: set[int] = set()
    if max(widths) > width_mm:
        pieces, widths, parted = _with_parts(pieces, widths, width_mm, scale)
    starts = (_even_starts if even else _greedy_starts)(widths, space, width_mm)
    return tuple(_lines(pieces, widths, starts, space, parted))


_Kind = tuple[str, str | None, str | None]
"""Face, target and page to come."""
_Piece = tuple[str, _Kind, bool]
"""A word, or the part of one that is in one span; its kind; does it open a word?"""


def _measured(text: Text, style: TypeStyle) -> tuple[list[_Piece], list[float]]:
    """The pieces of all words, and the width of each word: it may cross spans."""
    scale = style.size_pt * MM_PER_PT
    pieces: list[_Piece] = []
    widths: list[float] = []
    opens = True
    for span in text:
        face = style.strong if span.strong else style.face
        kind = (face, span.target, span.page_of)
        advances = shaper(face).advances
        parts = (_PAGE_STAND_IN,) if span.page_of else span.text.replace("\n", " ").split(" ")
        for index, part in enumerate(parts):
            opens = opens or index > 0
            if not part:
                continue
            if opens:
                widths.append(advances[part] * scale)
            else:
                widths[-1] += advances[part] * scale
            pieces.append((part, kind, opens))
            opens = False
    return pieces, widths


def _with_parts(
    pieces: Sequence[_Piece], widths: Sequence[float], limit: float, scale: float
) -> tuple[list[_Piece], list[float], set[int]]:
    """Words wider than the limit, in parts that are as wide as they can be: so no two of them, with
    a blank between, would go on one line. With them, which of all words go on from the one before.
    """
    found: list[_Piece] = []
    wide: list[float] = []
    goes_on: set[int] = set()
    word = -1
    for piece in pieces:
        word += piece[2]
        if widths[word] <= limit:
            found.append(piece)
            wide += [widths[word]] * piece[2]
        else:
            first = len(wide) + piece[2]
            _part(piece, found, wide, limit, scale)
            goes_on.update(range(first, len(wide)))
    return found, wide, goes_on


def _part(
    piece: _Piece, found: list[_Piece], wide: list[float], limit: float, scale: float
) -> None:
    """Add a piece to the words found so far, a part wherever the line is full."""
    rest, kind, opens = piece
    advances = shaper(kind[0]).advances
    while rest:
        room = limit - (0.0 if opens else wide[-1])
        ends = [at for at in range(1, len(rest) + 1) if at == len(rest) or _may_part(rest, at)]
        if kind[2] is not None:
            ends = ends[-1:]
        fitting = bisect_right(ends, room, key=lambda end: advances[rest[:end]] * scale)
        if not fitting and not opens:
            opens = True
            continue
        end = ends[max(fitting, 1) - 1]
        found.append((rest[:end], kind, opens))
        if opens:
            wide.append(0.0)
        wide[-1] += advances[rest[:end]] * scale
        rest, opens = rest[end:], True


def _may_part(text: str, at: int) -> bool:
    """Return whether a word may be parted here: a letter's accents stay with it."""
    return not unicodedata.category(text[at]).startswith("M")


def _lines(
    pieces: Sequence[_Piece],
    widths: Sequence[float],
    starts: Sequence[int],
    space: float,
    parted: Set[int],
) -> Iterator[Line]:
    """Lines that start with these words. `parted`: words that go on from the one before."""
    openings = [at for at, (_, _, opens) in enumerate(pieces) if opens]
    for start, end in zip(starts, [*starts[1:], len(widths)], strict=True):
        first = openings[start]
        last = openings[end] if end < len(openings) else len(pieces)
        width = sum(widths[start:end]) + space * (end - start - 1)
        yield Line(_runs(pieces[first:last]), width, end in parted)


def _runs(pieces: Sequence[_Piece]) -> tuple[TextRun, ...]:
    """The runs of a line: as long as they can be, a blank at the end of the one before it, but
    at the start of the next where a page number is to come."""
    texts: list[str] = []
    kinds: list[_Kind] = []
    for word, kind, opens in pieces:
        gap = " " if opens and kinds else ""
        before = kinds[-1] if kinds else None
        if before == kind and kind[2] is None:
            texts[-1] += gap + word
            continue
        if gap and before and before[2] is None:
            texts[-1] += gap
            gap = ""
        texts.append(gap + word)
        kinds.append(kind)
    return tuple([TextRun(text, *kind) for text, kind in zip(texts, kinds, strict=True)])


def _greedy_starts(widths: Sequence[float], space: float, limit: float) -> list[int]:
    starts = [0]
    filled = widths[0]
    for index in range(1, len(widths)):
        if filled + space + widths[index] > limit:
            starts.append(index)
            filled = widths[index]
        else:
            filled += space + widths[index]
    return starts


def _even_starts(widths: Sequence[float], space: float, limit: float) -> list[int]:
    """Least raggedness by dynamic programming over the first word of each line."""
    count = len(widths)
    steps = [space + width for width in widths]
    best = [0.0] * (count + 1)
    follows = [count] * (count + 1)
    for start in range(count - 1, -1, -1):
        least = float("inf")
        filled = -space
        for end in range(start + 1, count + 1):
            filled += steps[end - 1]
            if filled > limit and end > start + 1:
                break
            gap = limit - filled
            if end < count:
                cost = (gap / limit) ** 2 + _A_LINE + best[end]
            else:
                cost = 1.0 if gap > limit * (1 - _SHORT_LAST_LINE) else 0.0
            if cost < least:
                least, follows[start] = cost, end
        best[start] = least
    starts = [0]
    while follows[starts[-1]] < count:
        starts.append(follows[starts[-1]])
    return starts
