"""Break text into lines by real font metrics."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from publisher.drawing.look import TypeStyle
from publisher.fonts import text_width_em
from publisher.fonts.shaping import MM_PER_PT
from publisher.manuscript.blocks import Span, Text

_PAGE_STAND_IN = "00"  # page numbers are filled in later, in the room of two figures
_SHORT_LAST_LINE = 0.2  # a last line under this share of the width looks like a mistake


@dataclass(frozen=True, slots=True)
class Run:
    """Text in one face, with its link or page number to come."""

    text: str
    face: str
    target: str | None = None
    page_of: str | None = None


@dataclass(frozen=True, slots=True)
class Line:
    runs: tuple[Run, ...]
    width_mm: float

    @property
    def text(self) -> str:
        return "".join(run.text for run in self.runs)


_Word = tuple[list[Run], float]


def text_width(text: str, style: TypeStyle) -> float:
    """Width in mm of a text in a role's plain face."""
    return text_width_em(text, style.face) * style.size_pt * MM_PER_PT


def one_line(text: str, style: TypeStyle, *, strong: bool = False) -> Line:
    """A text as one line, never broken."""
    face = style.strong if strong else style.face
    return Line((Run(text, face),), text_width_em(text, face) * style.size_pt * MM_PER_PT)


def whole_line(text: Text, style: TypeStyle) -> Line:
    """Spans as one line, never broken."""
    lines = break_lines(text, style, float("inf"))
    return lines[0] if lines else Line((), 0.0)


def break_lines(
    text: Text, style: TypeStyle, width_mm: float, *, even: bool = True
) -> tuple[Line, ...]:
    """Lines no wider than `width_mm` (a single longer word stays whole).

    `even` spreads the words so that the ragged edge is quiet (least sum of squared gaps);
    otherwise each line takes as many words as it can.
    """
    words = list(_words(text, style))
    if not words:
        return ()
    scale = style.size_pt * MM_PER_PT
    space = text_width_em(" ", style.face) * scale
    widths = [width for _, width in words]
    total = sum(widths) + space * (len(words) - 1)
    if total <= width_mm:
        starts = [0]
    elif even:
        starts = _even_starts(widths, space, width_mm)
    else:
        starts = _greedy_starts(widths, space, width_mm)
    ends = [*starts[1:], len(words)]
    return tuple(_line(words[start:end], space) for start, end in zip(starts, ends, strict=True))


def _words(text: Text, style: TypeStyle) -> Iterable[_Word]:
    """Words as runs with their width: a word may cross spans, and a span many words."""
    scale = style.size_pt * MM_PER_PT
    runs: list[Run] = []
    width = 0.0
    for span in text:
        face = style.strong if span.strong else style.face
        parts = [_PAGE_STAND_IN] if span.page_of else span.text.replace("\n", " ").split(" ")
        for index, part in enumerate(parts):
            if index and runs:
                yield runs, width
                runs, width = [], 0.0
            if part:
                runs.append(_run(part, face, span))
                width += text_width_em(part, face) * scale
    if runs:
        yield runs, width


def _run(part: str, face: str, span: Span) -> Run:
    return Run(part, face, span.target, span.page_of)


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
    best = [0.0] * (count + 1)
    follows = [count] * (count + 1)
    for start in range(count - 1, -1, -1):
        best[start] = float("inf")
        filled = -space
        for end in range(start + 1, count + 1):
            filled += space + widths[end - 1]
            if filled > limit and end > start + 1:
                break
            cost = _raggedness(limit - filled, limit, last=end == count) + best[end]
            if cost < best[start]:
                best[start], follows[start] = cost, end
    starts = [0]
    while follows[starts[-1]] < count:
        starts.append(follows[starts[-1]])
    return starts


def _raggedness(gap: float, limit: float, *, last: bool) -> float:
    if not last:
        return (gap / limit) ** 2 + 0.02  # a little a line: never more lines than are needed
    return 1.0 if gap > limit * (1 - _SHORT_LAST_LINE) else 0.0


def _line(words: Sequence[_Word], space: float) -> Line:
    runs: list[Run] = []
    for index, (parts, _) in enumerate(words):
        for number, part in enumerate(parts):
            gap = " " if index and number == 0 else ""
            before = runs[-1] if runs else None
            if before and _alike(before, part):
                runs[-1] = Run(before.text + gap + part.text, part.face, part.target)
            elif before and gap and before.page_of is None:
                runs[-1] = Run(before.text + " ", before.face, before.target)
                runs.append(part)
            else:
                runs.append(Run(gap + part.text, part.face, part.target, part.page_of))
    width = sum(width for _, width in words) + space * (len(words) - 1)
    return Line(tuple(runs), width)


def _alike(one: Run, other: Run) -> bool:
    same = one.face == other.face and one.target == other.target
    return same and one.page_of is None and other.page_of is None
