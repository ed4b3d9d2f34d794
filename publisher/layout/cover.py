"""Compose the cover: title as large as it can be, facts in a narrow column, the piece beside it."""

from __future__ import annotations

from publisher.drawing import draw_hanging
from publisher.drawing.figure import Figure
from publisher.drawing.part_picture import draw_picture
from publisher.layout.boxes import Box, Placed
from publisher.layout.desk import Desk
from publisher.layout.lines import Line, break_lines, one_line, whole_line
from publisher.manuscript.blocks import Cover

_TITLE_ROLES = ("cover-title", "cover-title-long", "title")
_MOST_TITLE_LINES = 3
_FOOT_MM = 9.0  # from the last line's base to what stands above it, in type of 10.5 pt
_LAST_LINE_MM = 13.0  # from the paper's lower edge
_WIDE = 1.4  # a piece wider than this, for its height, takes the whole width
_LEAST_MM = 50.0


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
    foot_mm = _LAST_LINE_MM + _FOOT_MM * desk.style("body").size_pt / 10.5
    bottom = paper.height_mm - foot_mm
    if cover.plan is None and cover.part is None:
        placed += _column(cover, desk, left, top)
    elif _is_wide(cover, desk, bottom - top):
        facts = _across(cover, desk, left, 0.0)
        below = facts[-1].y_mm + facts[-1].box.height_mm + 14.0
        placed += _picture(cover, desk, left, top, width, max(bottom - top - below, _LEAST_MM))
        placed += _across(cover, desk, left, placed[-1].y_mm + placed[-1].box.height_mm + 14.0)
    else:
        aside = frame.cover_facts_mm + frame.column_gap_mm
        placed += _column(cover, desk, left, top + 26.0)
        placed += _picture(cover, desk, left + aside, top, width - aside, bottom - top)
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


def _is_wide(cover: Cover, desk: Desk, room: float) -> bool:
    """Is the piece broad, or are the facts longer than the page, so that they go below it?"""
    facts = _column(cover, desk, 0.0, 26.0)
    tall = facts[-1].y_mm + facts[-1].box.height_mm if facts else 0.0
    broad = cover.plan is not None and cover.plan.width_mm > _WIDE * cover.plan.height_mm
    return broad or tall > room


def _picture(
    cover: Cover, desk: Desk, left: float, top: float, width: float, height: float
) -> list[Placed]:
    """The piece in the middle of its room."""
    figure = _figure(cover, desk, width, height)
    if figure is None:
        return []
    box = Box(figure.height_mm, "pictures.figure", {"figure": figure.with_alt(cover.alt)})
    return [Placed(left + (width - figure.width_mm) / 2, top, box)]


def _figure(cover: Cover, desk: Desk, width: float, height: float) -> Figure | None:
    if cover.plan is not None:
        mark_pt = desk.look.type["place-number"].size_pt if cover.placed else 0.0
        colours, look = desk.colours, desk.look
        return draw_hanging(cover.plan, colours, look, width, height, cover.placed, mark_pt)
    if cover.part is not None:
        return draw_picture(cover.part, desk.colours, desk.look, width, height, largest=1.5)
    return None


def _column(cover: Cover, desk: Desk, left: float, top: float) -> list[Placed]:
    """The facts under one another."""
    placed = []
    y = top
    for box in _facts(cover, desk):
        placed.append(Placed(left, y, box))
        y += box.height_mm + desk.style("body").lead_mm
    return placed


def _across(cover: Cover, desk: Desk, left: float, top: float) -> list[Placed]:
    """The facts in lines of as many as the page's width holds."""
    frame = desk.look.frame
    step = frame.cover_facts_mm + frame.column_gap_mm
    count = max(1, int((desk.look.paper.text_width_mm + frame.column_gap_mm) / step))
    placed = []
    y = top
    boxes = _facts(cover, desk)
    for start in range(0, len(boxes), count):
        line = boxes[start : start + count]
        placed += [Placed(left + index * step, y, box) for index, box in enumerate(line)]
        y += max(box.height_mm for box in line) + desk.style("body").lead_mm
    return placed


def _facts(cover: Cover, desk: Desk) -> list[Box]:
    style, head = desk.style("body"), desk.style("key")
    width = desk.look.frame.cover_facts_mm
    group = desk.group("L")
    boxes = []
    for term, values in cover.facts:
        lines = tuple(
            line for value in values for line in break_lines(desk.spans(value), style, width)
        )
        args = {"term": one_line(term, head), "lines": lines}
        tall = head.lead_mm + style.lead_mm * len(lines)
        boxes.append(Box(tall, "cover.fact", args, group=group))
    return boxes
