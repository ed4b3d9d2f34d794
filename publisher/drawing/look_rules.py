"""Check that a look can be drawn: its sizes, the room on its paper, the names it gives."""

from __future__ import annotations

from typing import TYPE_CHECKING

from publisher.fonts import FACES

if TYPE_CHECKING:
    from publisher.drawing.look import Look

_LEAST_TEXT_MM = 40.0
"""The text area of a page, across and down."""
_SMALLEST_CELL_MM = 1.0
_NOT_PRINTED = ("place-number",)
"""Roles that may have no size: what they are for is left out then."""


def check_look(look: Look) -> None:
    """ValueError names the first key with which no book could be laid out."""
    for name, style in look.type.items():
        if style.lead_mm <= 0:
            raise ValueError(f"type.{name}.lead_mm must be more than 0")
        if style.size_pt <= 0 and name not in _NOT_PRINTED:
            raise ValueError(f"type.{name}.size_pt must be more than 0")
        if style.colour not in look.colours:
            raise ValueError(f"type.{name}.colour: there is no colour {style.colour!r}")
        for key, face in (("face", style.face), ("strong", style.strong)):
            if face not in FACES:
                raise ValueError(f"type.{name}.{key} must be one of {', '.join(FACES)}")
    _check_room(look)
    _check_chart(look)


def _check_room(look: Look) -> None:
    """That words, and the columns of the cover, have somewhere to stand."""
    paper, frame = look.paper, look.frame
    top = max(paper.margins.top_mm, frame.title_mm + frame.title_gap_mm)
    if min(paper.text_width_mm, paper.text_bottom_mm - top) < _LEAST_TEXT_MM:
        raise ValueError(f"the paper's margins leave less than {_LEAST_TEXT_MM:g} mm for the text")
    if 2 * frame.column_gap_mm > paper.text_width_mm:
        raise ValueError("frame.column_gap_mm is too wide for the paper")
    if not 0 < frame.cover_facts_mm <= paper.text_width_mm:
        raise ValueError("frame.cover_facts_mm must be more than 0, and no wider than the text")


def _check_chart(look: Look) -> None:
    """That a page can hold some cells and a key."""
    chart, width_mm = look.chart, look.paper.text_width_mm
    widest = (width_mm - 2 * chart.gutter_mm) / (chart.overlap + 1)
    if not _SMALLEST_CELL_MM <= chart.cell_min_mm <= widest:
        raise ValueError(
            f"chart.cell_min_mm must be {_SMALLEST_CELL_MM:g} or more, and leave room beside "
            f"chart.gutter_mm for one cell more than chart.overlap"
        )
    if chart.key_columns < 1:
        raise ValueError("chart.key_columns must be 1 or more")
    if not 0 < chart.key_map_mm <= width_mm:
        raise ValueError("chart.key_map_mm must be more than 0, and no wider than the text")
    for key in ("row_number", "cord_number", "overlap_words", "run_length"):
        role = getattr(chart, key)
        if role not in look.type:
            raise ValueError(f"chart.{key}: there is no type {role!r}")
