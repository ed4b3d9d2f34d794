"""Check that a look can be drawn: its sizes, the room on its paper, the names it gives."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from typing import TYPE_CHECKING

from publisher.fonts import FACES
from publisher.frozen import frozen
from publisher.tables.words import listed, nearest

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
    """A fault of a key of the look, and what to do about it."""

    key: str
    what: str
    hint: str = "mend the line"

    def __str__(self) -> str:
        return f"{self.key or 'the look'} {self.what}"

    def on_paper(self, paper: str) -> LookFault:
        """The same, by the key that the paper has in the file."""
        above, dot, rest = self.key.partition(".")
        key = f"papers.{paper}{dot}{rest}" if above == "paper" else self.key
        return LookFault(key, self.what, self.hint)


class LookError(ValueError):
    """A look is wrong."""

    def __init__(self, *faults: LookFault) -> None:
        super().__init__("\n".join(map(str, faults)))
        self.faults = faults


def not_as_named(
    dot: str, missing: Collection[str], unknown: Collection[str], known: Collection[str]
) -> Iterator[LookFault]:
    """Yield what a table of the look lacks, and what it has under a name that is not known."""
    lacking = list(_missing(dot, missing, unknown))
    yield from lacking
    for name in unknown:
        if all(fault.key != f"{dot}{name}" for fault in lacking):
            near = nearest(name, known)
            hint = f"did you mean {near}?" if near else f"known here: {listed(known, 20)}"
            yield LookFault(f"{dot}{name}", _UNKNOWN, hint)


def _missing(dot: str, missing: Collection[str], unknown: Collection[str]) -> Iterator[LookFault]:
    """Yield what a table lacks, told where another name like it stands if there is one."""
    for name in missing:
        near = nearest(name, unknown)
        if near:
            yield LookFault(f"{dot}{near}", _UNKNOWN, f"rename {near} to {name}")
        else:
            yield LookFault(f"{dot}{name}", "is missing", "add it")


_UNKNOWN = "is not known here"


def check_look(look: Look) -> Iterator[LookFault]:
    """Yield all that stands in the way of laying a book out."""
    lacking = list(_lacking(look))
    yield from lacking
    yield from _check_type(look)
    if not lacking:
        yield from _check_room(look)
        yield from _check_chart(look)


def _lacking(look: Look) -> Iterator[LookFault]:
    """Names that the program draws with and the look does not give. It may give others."""
    for table, names in NEEDED.items():
        given = getattr(look, table)
        missing = [name for name in names if name not in given]
        if missing:
            others = [name for name in given if name not in names]
            yield from _missing(f"{table}.", missing, others)


def _check_type(look: Look) -> Iterator[LookFault]:
    for name, style in look.type.items():
        key = f"type.{name}"
        if style.lead_mm <= 0:
            yield LookFault(f"{key}.lead_mm", "must be more than 0")
        if style.size_pt <= 0 and name not in _NOT_PRINTED:
            yield LookFault(f"{key}.size_pt", "must be more than 0")
        if style.colour not in look.colours:
            choice = ", ".join(look.colours)
            yield LookFault(
                f"{key}.colour", f"names no colour: {style.colour!r}", f"choose {choice}"
            )
        for part, face in (("face", style.face), ("strong", style.strong)):
            if face not in FACES:
                yield LookFault(f"{key}.{part}", f"must be one of {', '.join(FACES)}, not {face!r}")


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
        yield LookFault("chart.key_columns", "must be 1 or more")
    if not 0 < chart.key_map_mm <= width_mm:
        yield LookFault("chart.key_map_mm", "must be more than 0, and no wider than the text")
    for key in ("row_number", "cord_number", "overlap_words", "run_length"):
        role = getattr(chart, key)
        if role not in look.type:
            choice = ", ".join(name for name in look.type if name.startswith("chart-"))
            yield LookFault(f"chart.{key}", f"names no type: {role!r}", f"choose {choice}")
