"""Compose the cover: title as large as it can be, facts in a narrow column, the piece beside it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from math import inf

from publisher.drawing import draw_hanging
from publisher.drawing.part.picture import draw_picture
from publisher.layout.boxes import Box, Placed
from publisher.layout.context import LayoutContext
from publisher.layout.lines import Line, break_lines, one_line, whole_line
from publisher.manuscript.blocks import Cover, Span
from publisher.model.figure import Figure

_TITLE_ROLES = ("cover-title", "cover-title-long", "title")
_LAST_ROLE = "heading"
_MOST_TITLE_LINES = 3
_MOST_TITLE = 0.25  # of the paper's height, before a title is set as small as a heading
_FOOT_MM = 9.0  # from the last line's base to what stands above it, in type of 10.5 pt
_LAST_LINE_MM = 13.0  # from the paper's lower edge
_FOOT_GAP_MM = 8.0  # between the house and the line at the right
_WIDE = 1.4  # a piece wider than this, for its height, takes the whole width
_GAP_MM = 14.0  # between picture and facts below it
_LEAST_MM = 35.0
_APART = (1.0, 0.5)
"""From one fact to the next, in lines; less where the picture is larger for it."""
_DOWN_MM = (26.0, 0.0)
"""Where facts beside the picture begin, below its top; higher where they don't fit otherwise."""
_FULL = 0.95  # of the text's width: a picture that is not to be larger


def cover_pages(cover: Cover, context: LayoutContext) -> tuple[tuple[Placed, ...], ...]:
    """The front; and what it has no room for, in large type, for a page of text after it."""
    frame, left = context.look.frame, context.look.paper.margins.left_mm
    head = _head(cover, context)
    foot, foot_mm = _foot(cover, context)
    top = max(frame.cover_top_mm + head.height_mm + 12.0, 62.0)
    bottom = context.look.paper.height_mm - foot_mm
    front, after = _content(cover, context, top, bottom)
    pages = [(Placed(left, frame.cover_top_mm, head), *front, foot)]
    return tuple(pages + ([after] if after else []))


_Page = tuple[Placed, ...]


def _content(
    cover: Cover, context: LayoutContext, top: float, bottom: float
) -> tuple[_Page, _Page]:
    """Picture and facts for the front, and what is left for the page after it."""
    frame, paper = context.look.frame, context.look.paper
    left, width = paper.margins.left_mm, paper.text_width_mm
    shown = cover.plan is not None or cover.part is not None
    if not shown and _column_mm(cover, context, top) <= bottom:
        return _column(cover, context, top), ()
    for down, apart in zip(_DOWN_MM, _APART, strict=True) if shown and not _is_broad(cover) else ():
        if _column_mm(cover, context, top + down, apart) <= bottom:
            aside = frame.cover_facts_mm + frame.column_gap_mm
            picture = _picture(cover, context, left + aside, top, width - aside, bottom - top)
            return (*_column(cover, context, top + down, apart), *picture), ()
    for apart in _APART:
        facts, facts_mm = _across(cover, context, apart)
        room = bottom - top - facts_mm - _GAP_MM
        picture = _picture(cover, context, left, top, width, room)
        if picture and picture[0].box.args["figure"].width_mm >= _FULL * width:
            break
    if room >= _LEAST_MM:
        below = sum(item.box.height_mm for item in picture) + (_GAP_MM if picture else 0.0)
        return (*picture, *_moved(facts, top + below)), ()
    over = (item.y_mm for item in facts if top + item.y_mm + item.box.height_mm > bottom)
    line_mm = next(over, inf)  # a line of facts that has one too tall goes over whole
    fitting = [item for item in facts if item.y_mm < line_mm]
    rest = facts[len(fitting) :]
    y = paper.margins.top_mm + _GAP_MM / 2
    further = _moved(rest, y - rest[0].y_mm) if rest else ()
    y += facts_mm - rest[0].y_mm + _GAP_MM if rest else 0.0
    picture = _picture(cover, context, left, y, width, paper.text_bottom_mm - y)
    return _moved(fitting, top), (*further, *picture)


def _moved(placed: Sequence[Placed], down_mm: float) -> _Page:
    return tuple(replace(item, y_mm=item.y_mm + down_mm) for item in placed)


def _head(cover: Cover, context: LayoutContext) -> Box:
    """Title and subtitle."""
    width = context.look.paper.text_width_mm
    role, title = _title(cover.title, context, width)
    line = context.style("cover-line")
    subtitle = break_lines(context.spans(cover.subtitle), line, width)
    args = {"lines": title, "role": role, "subtitle": subtitle, "target": "cover"}
    tall = len(title) * context.style(role).lead_mm + len(subtitle) * line.lead_mm + 10.0
    return Box(tall, "cover.title", args)


def _foot(cover: Cover, context: LayoutContext) -> tuple[Placed, float]:
    """House and terms in one line, or under one another where they are long; and how far from the
    paper's lower edge other things end."""
    paper, body = context.look.paper, context.style("body")
    width = paper.text_width_mm
    line = whole_line(cover.line, context.style("furniture"))
    house = break_lines((Span(cover.house, strong=True),), body, width) if cover.house else ()
    beside = house[-1].width_mm + _FOOT_GAP_MM + line.width_mm <= width if house else True
    if line.runs and not beside:
        house = (*house, line)
        line = Line((), 0.0)
    tall = body.lead_mm * max(0, len(house) - 1)
    args = {"house": house, "line": line, "line_x": width - line.width_mm, "rise": tall}
    at = Placed(
        paper.margins.left_mm, paper.height_mm - _LAST_LINE_MM, Box(0.0, "cover.foot", args)
    )
    return at, _LAST_LINE_MM + tall + _FOOT_MM * body.size_pt / 10.5


def _title(words: str, context: LayoutContext, width: float) -> tuple[str, tuple[Line, ...]]:
    """The largest type in which the title takes few lines."""
    lines: tuple[Line, ...] = ()
    role = _TITLE_ROLES[0]
    for role in _TITLE_ROLES:
        lines = break_lines(context.spans(words), context.style(role), width)
        if len(lines) <= _MOST_TITLE_LINES:
            return role, lines
    if len(lines) * context.style(role).lead_mm > _MOST_TITLE * context.look.paper.height_mm:
        return _LAST_ROLE, break_lines(context.spans(words), context.style(_LAST_ROLE), width)
    return role, lines


def _is_broad(cover: Cover) -> bool:
    plan = cover.plan
    return plan is not None and plan.width_mm > _WIDE * plan.height_mm


def _picture(
    cover: Cover, context: LayoutContext, left: float, top: float, width: float, height: float
) -> list[Placed]:
    """The piece in the middle of its room."""
    figure = _figure(cover, context, width, height) if height >= _LEAST_MM else None
    if figure is None:
        return []
    box = Box(figure.height_mm, "pictures.figure", {"figure": figure.with_alt(cover.alt)})
    return [Placed(left + (width - figure.width_mm) / 2, top, box)]


def _figure(cover: Cover, context: LayoutContext, width: float, height: float) -> Figure | None:
    if cover.plan is not None:
        mark_pt = context.look.type["place-number"].size_pt if cover.placed else 0.0
        colours, look = context.colours, context.look
        placed, store = cover.placed, context.store
        return draw_hanging(cover.plan, colours, look, width, height, placed, mark_pt, store)
    if cover.part is not None:
        size, store = (width, height), context.store
        return draw_picture(
            cover.part, context.colours, context.look, *size, largest=1.5, store=store
        )
    return None


def _column(cover: Cover, context: LayoutContext, top: float, apart: float = 1.0) -> _Page:
    """The facts under one another, so many lines apart."""
    placed = []
    y = top
    for box in _facts(cover, context):
        placed.append(Placed(context.look.paper.margins.left_mm, y, box))
        y += box.height_mm + apart * context.style("body").lead_mm
    return tuple(placed)


def _column_mm(cover: Cover, context: LayoutContext, top: float, apart: float = 1.0) -> float:
    """Return where a column of facts ends."""
    facts = _column(cover, context, top, apart)
    return facts[-1].y_mm + facts[-1].box.height_mm if facts else top


def _across(cover: Cover, context: LayoutContext, apart: float) -> tuple[list[Placed], float]:
    """The facts in lines of as many as the page's width holds, from 0 down; and their height."""
    frame, gap = context.look.frame, apart * context.style("body").lead_mm
    step = frame.cover_facts_mm + frame.column_gap_mm
    count = max(1, int((context.look.paper.text_width_mm + frame.column_gap_mm) / step))
    left, placed, y = context.look.paper.margins.left_mm, [], 0.0
    boxes = _facts(cover, context)
    for start in range(0, len(boxes), count):
        line = boxes[start : start + count]
        placed += [Placed(left + index * step, y, box) for index, box in enumerate(line)]
        y += max(box.height_mm for box in line) + gap
    return placed, max(0.0, y - gap)


def _facts(cover: Cover, context: LayoutContext) -> list[Box]:
    style, head = context.style("body"), context.style("key")
    width = context.look.frame.cover_facts_mm
    group = context.group("L")
    boxes = []
    for term, values in cover.facts:
        lines = tuple(
            line for value in values for line in break_lines(context.spans(value), style, width)
        )
        args = {"term": one_line(term, head), "lines": lines}
        tall = head.lead_mm + style.lead_mm * len(lines)
        boxes.append(Box(tall, "cover.fact", args, group=group))
    return boxes
