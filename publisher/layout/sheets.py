"""Turn sections into sheets: what stands on each page, before page numbers are known."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from publisher.frozen import frozen
from publisher.layout.boxes import Box, Placed, height, stack
from publisher.layout.compose import compose
from publisher.layout.cover import cover_pages
from publisher.layout.desk import Desk
from publisher.layout.lines import Line, break_lines
from publisher.layout.maps import map_boxes
from publisher.layout.paginate import Area, fill
from publisher.layout.tiles import chart_pages
from publisher.manuscript import blocks
from publisher.manuscript.blocks import Block, Section

_LEAST_LINES = 3
_LEAST_MAP = 0.5
"""A map that had less than this share of its page beside other things has one of its own."""
_CHART_GAP = 0.35
"""From a chart's title to its figure, in lines of titles: nearer than text, as the figure has its
own room above."""


@frozen
class Sheet:
    """One page to be: its frame, what it says at the head, and its boxes at their places."""

    page: str
    title: tuple[Line, ...]
    note: str
    running: str
    placed: tuple[Placed, ...]
    section: str
    opens_section: bool
    level: int = 1

    @property
    def targets(self) -> Iterator[str]:
        """The names of the places on this page."""
        if self.opens_section:
            yield self.section
        for item in self.placed:
            yield from _targets(item.box)


def _targets(box: Box) -> Iterator[str]:
    if box.target:
        yield box.target
    for child in box.children:
        yield from _targets(child.box)


def lay_section(section: Section, desk: Desk) -> Iterator[Sheet]:
    """The sheets of one section."""
    first = section.body[0] if section.body else None
    if isinstance(first, blocks.Cover):
        for index, placed in enumerate(cover_pages(first, desk)):
            page = "text" if index else section.page
            yield Sheet(page, (), "", "", placed, section.name, opens_section=index == 0)
    elif isinstance(first, blocks.Chart):
        yield from _charts(section, first, desk)
    else:
        yield from _flow(section, desk)


def _charts(section: Section, chart: blocks.Chart, desk: Desk) -> Iterator[Sheet]:
    top = desk.look.frame.title_mm + _CHART_GAP * desk.style("title").lead_mm
    room = desk.look.paper.text_bottom_mm - top
    for index, page in enumerate(chart_pages(chart, desk, room)):
        placed = tuple(replace(box, y_mm=box.y_mm + top) for box in page.boxes)
        title = _title(page.title, desk)
        opens = index == 0
        yield Sheet(section.page, title, "", page.running, placed, section.name, opens)


def _flow(section: Section, desk: Desk) -> Iterator[Sheet]:
    paper = desk.look.paper
    width = paper.text_width_mm
    left = paper.margins.left_mm
    foot = compose(section.foot, desk, width)
    bottom = paper.text_bottom_mm - (height(foot) + 3.0 if foot else 0.0)
    title = _title(section.title, desk)  # as long as the longest: rows get two figures each
    top = _top(title, desk)
    lead = compose(section.lead, desk, width)
    lead_mm = height(lead) + 5.0 if lead else 0.0
    gap = desk.look.frame.column_gap_mm
    column = (width - gap * (section.columns - 1)) / section.columns
    boxes = _body(section, desk, column, bottom - top - lead_mm)

    def areas() -> Iterator[Area]:
        page = 0
        while True:
            for index in range(section.columns):
                x = left + index * (column + gap)
                yield Area(x, top + (lead_mm if page == 0 else 0.0), bottom)
            page += 1

    for index, columns in enumerate(_pages(fill(boxes, areas()), section.columns)):
        placed = [item for items in columns for item in items]
        found = [item.box.row for item in placed if item.box.row is not None]
        rows = list(dict.fromkeys(found))
        if index == 0:
            placed = [*stack(lead, left, top), *placed]
        placed += stack(foot, left, bottom + 3.0)
        yield Sheet(
            section.page,
            _title(section.title_of(index, rows), desk),
            section.note if index == 0 else "",
            section.running,
            tuple(placed),
            section.name,
            opens_section=index == 0,
        )


def _body(section: Section, desk: Desk, width: float, tall: float) -> tuple[Box, ...]:
    """The section's boxes; a map of the back is drawn for the room that the others leave."""
    first, *rest = section.body
    last = section.body[-1]
    if isinstance(last, blocks.NoteLines) and not last.count:
        return _with_note_lines(section.body[:-1], desk, width, tall)
    if not isinstance(first, blocks.BackMap):
        return compose(section.body, desk, width)
    others = compose(tuple(rest), desk, width)
    left = tall - sum(box.before_mm + box.height_mm for box in others)
    room = left if left > _LEAST_MAP * tall else tall
    return (*map_boxes(first, desk, width, room), *others)


def _with_note_lines(
    body: tuple[Block, ...], desk: Desk, width: float, tall: float
) -> tuple[Box, ...]:
    """Blocks, and lines to write on that fill what is left of the page."""
    others = compose(body, desk, width)
    line = compose((blocks.NoteLines(1),), desk, width)[0]
    left = (tall - sum(box.before_mm + box.height_mm for box in others)) % tall
    count = max(_LEAST_LINES, int((left or tall) / (line.before_mm + line.height_mm)))
    return (*others, *[line] * count)


def _pages(
    columns: Iterator[tuple[Placed, ...]], count: int
) -> Iterator[tuple[tuple[Placed, ...], ...]]:
    page: list[tuple[Placed, ...]] = []
    for column in columns:
        page.append(column)
        if len(page) == count:
            yield tuple(page)
            page = []
    if page:
        yield tuple(page)


def _title(words: str, desk: Desk) -> tuple[Line, ...]:
    if not words:
        return ()
    return break_lines(desk.spans(words), desk.style("title"), desk.look.paper.text_width_mm)


def _top(title: tuple[Line, ...], desk: Desk) -> float:
    """Where the text begins: its first base line is a line below."""
    more = max(1, len(title)) - 1
    frame = desk.look.frame
    return frame.title_mm + more * desk.style("title").lead_mm + frame.title_gap_mm
