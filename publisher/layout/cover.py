"""Compose the cover: title as large as it can be, facts in a narrow column, the piece beside it."""

from __future__ import annotations

from publisher.drawing import draw_hanging
from publisher.layout.boxes import Box, Placed
from publisher.layout.desk import Desk
from publisher.layout.lines import Line, break_lines, one_line, whole_line
from publisher.manuscript.blocks import Cover

_TITLE_ROLES = ("cover-title", "cover-title-long", "title")
_MOST_TITLE_LINES = 3
_FOOT_MM = 22.0  # from the paper's lower edge to the picture
_LAST_LINE_MM = 13.0


def cover_boxes(cover: Cover, desk: Desk) -> tuple[Placed, ...]:
    paper = desk.look.paper
    left, width = paper.margins.left_mm, paper.text_width_mm
    role, title = _title(cover.title, desk, width)
    line = desk.style("cover-line")
    subtitle = break_lines(desk.spans(cover.subtitle), line, width)
    args = {"lines": title, "role": role, "subtitle": subtitle, "target": "cover"}
    tall = len(title) * desk.style(role).lead_mm + len(subtitle) * line.lead_mm + 10.0
    frame = desk.look.frame
    placed = [Placed(left, frame.cover_top_mm, Box(tall, "cover.title", args))]
    top = max(frame.cover_top_mm + tall + 12.0, 62.0)
    bottom = paper.height_mm - _FOOT_MM
    placed += _facts(cover, desk, left, top + 26.0)
    if cover.plan is not None:
        aside = frame.cover_facts_mm + frame.column_gap_mm
        room = width - aside
        figure = draw_hanging(cover.plan, desk.colours, desk.look, room, bottom - top)
        x = left + aside + (room - figure.width_mm) / 2
        box = Box(figure.height_mm, "pictures.figure", {"figure": figure.with_alt(cover.alt)})
        placed.append(Placed(x, top, box))
    placed.append(Placed(left, paper.height_mm - _LAST_LINE_MM, _foot(cover, desk, width)))
    return tuple(placed)


def _foot(cover: Cover, desk: Desk, width: float) -> Box:
    line = whole_line(cover.line, desk.style("furniture"))
    house = one_line(cover.house, desk.style("body"), strong=True)
    args = {"house": house, "line": line, "line_x": width - line.width_mm}
    return Box(0.0, "cover.foot", args)


def _title(words: str, desk: Desk, width: float) -> tuple[str, tuple[Line, ...]]:
    """The largest type in which the title takes few lines."""
    lines: tuple[Line, ...] = ()
    role = _TITLE_ROLES[0]
    for role in _TITLE_ROLES:
        lines = break_lines(desk.spans(words), desk.style(role), width)
        if len(lines) <= _MOST_TITLE_LINES:
            break
    return role, lines


def _facts(cover: Cover, desk: Desk, left: float, top: float) -> list[Placed]:
    style, head = desk.style("body"), desk.style("key")
    width = desk.look.frame.cover_facts_mm
    group = desk.group("L")
    placed = []
    y = top
    for term, values in cover.facts:
        lines = tuple(
            line for value in values for line in break_lines(desk.spans(value), style, width)
        )
        term_line = break_lines(desk.spans(term), head, width)[0]
        tall = head.lead_mm + style.lead_mm * len(lines)
        args = {"term": term_line, "lines": lines}
        placed.append(Placed(left, y, Box(tall, "cover.fact", args, group=group)))
        y += tall + style.lead_mm
    return placed
