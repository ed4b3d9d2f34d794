"""Check that a look can be drawn: its sizes, the room on its paper, the names it gives."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from publisher.fonts import FACES
from publisher.frozen import frozen
from publisher.tables.words import listed, nearest, shown

if TYPE_CHECKING:
    from publisher.model.look import Look

_LEAST_TEXT_MM = 40.0
"""The text area of a page, across and down."""
_SMALLEST_CELL_MM = 1.0
_NOT_PRINTED = ("place-number",)
"""Roles that may have no size: what they are for is left out then."""

_NEEDED = {
    "colours": "ink soft note accent tint figure band hair paper grid",
    "lines": "hair table frame tick accent",
    "type": """cover-title cover-title-long cover-line title heading body rows row-arrow row-number
        table table-head table-unit table-second figure-words figure-label note lead-in furniture
        legend chart-row chart-cord chart-words chart-run place-number map-number key key-count""",
}
NEEDED: Mapping[str, tuple[str, ...]] = {
    table: tuple(names.split()) for table, names in _NEEDED.items()
}
"""What the program and its templates draw with, by the tables that name it."""


@frozen
class LookFault:
    """A fault of a key of the look, dotted, and what to do about it."""

    key: str
    what: str
    hint: str = "mend the line"

    def on_paper(self, paper: str) -> LookFault:
        """The same, by the key that the paper has in the file."""
        return replace(self, key=re.sub(r"^paper\b", f"papers.{paper}", self.key))


def check_look(look: Look) -> Iterator[LookFault]:
    """Yield all that stands in the way of laying a book out. The look has all names of NEEDED."""
    yield from _check_type(look)
    yield from _check_room(look)
    yield from _check_chart(look)


def _check_type(look: Look) -> Iterator[LookFault]:
    for name, style in look.type.items():
        key = f"type.{name}"
        if style.lead_mm <= 0:
            yield LookFault(f"{key}.lead_mm", _MORE_THAN_0, _LARGER)
        if style.size_pt <= 0 and name not in _NOT_PRINTED:
            yield LookFault(f"{key}.size_pt", _MORE_THAN_0, _LARGER)
        if style.colour not in look.colours:
            yield _no_name(f"{key}.colour", "colour", style.colour, look.colours)
        for part, face in (("face", style.face), ("strong", style.strong)):
            if face not in FACES:
                yield _no_name(f"{key}.{part}", "face", face, FACES)


def _no_name(key: str, kind: str, name: str, known: Iterable[str]) -> LookFault:
    near = nearest(name, known)
    hint = f'did you mean "{near}"?' if near else f"choose one of {listed(known, 20)}"
    return LookFault(key, f"names no {kind}: {shown(name)}", hint)


_MORE_THAN_0 = "must be more than 0"
_LARGER = "write a larger number"


def _check_room(look: Look) -> Iterator[LookFault]:
    """Check that words, and the columns of the cover, have somewhere to stand."""
    paper, frame = look.paper, look.frame
    top = max(paper.margins.top_mm, frame.title_mm + frame.title_gap_mm)
    if min(paper.text_width_mm, paper.text_bottom_mm - top) < _LEAST_TEXT_MM:
        what = f"leave less than {_LEAST_TEXT_MM:g} mm for the text"
        hint = "make them smaller, or frame.title_mm and frame.title_gap_mm"
        yield LookFault("paper.margins", what, hint)
        return
    if 2 * frame.column_gap_mm > paper.text_width_mm:
        yield LookFault("frame.column_gap_mm", "is too wide for the paper")
    if not 0 < frame.cover_facts_mm <= paper.text_width_mm:
        yield LookFault("frame.cover_facts_mm", "must be more than 0, and no wider than the text")


def _check_chart(look: Look) -> Iterator[LookFault]:
    """Check that a page can hold some cells and a key."""
    chart, width_mm = look.chart, look.paper.text_width_mm
    widest = (width_mm - 2 * chart.gutter_mm) / (chart.overlap + 1)
    if not _SMALLEST_CELL_MM <= chart.cell_min_mm <= widest:
        what = (
            f"must be {_SMALLEST_CELL_MM:g} or more, and leave room beside "
            f"chart.gutter_mm for one cell more than chart.overlap"
        )
        yield LookFault("chart.cell_min_mm", what)
    if chart.key_columns < 1:
        yield LookFault("chart.key_columns", "must be 1 or more", _LARGER)
    if not 0 < chart.key_map_mm <= width_mm:
        yield LookFault("chart.key_map_mm", "must be more than 0, and no wider than the text")
    for key in ("row_number", "cord_number", "overlap_words", "run_length"):
        role = getattr(chart, key)
        if role not in look.type:
            choices = [name for name in look.type if name.startswith("chart-")]
            yield _no_name(f"chart.{key}", "type", role, choices)
