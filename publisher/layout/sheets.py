"""Turn sections into sheets: what stands on each page, before page numbers are known."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from publisher.frozen import frozen
from publisher.layout.boxes import Box, Placed
from publisher.layout.context import LayoutContext
from publisher.layout.cover import cover_pages
from publisher.layout.flow import Flowed, flow, goes_on, title_lines
from publisher.layout.lines import Line
from publisher.layout.tiles import chart_pages
from publisher.manuscript import blocks
from publisher.manuscript.blocks import Section

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


def lay_sections(sections: Sequence[Section], context: LayoutContext) -> Iterator[Sheet]:
    """The sheets of all sections, in order."""
    run: list[Section] = []
    for section in sections:
        if run and not (_flows(run[-1]) and _flows(section) and goes_on(run[-1], section)):
            yield from _lay_run(run, context)
            run = []
        run.append(section)
    if run:
        yield from _lay_run(run, context)


def _flows(section: Section) -> bool:
    return not (section.body and isinstance(section.body[0], blocks.Cover | blocks.Chart))


def _lay_run(run: Sequence[Section], context: LayoutContext) -> Iterator[Sheet]:
    """The sheets of a section and of those that go on below it."""
    section = run[0]
    first = section.body[0] if section.body else None
    if isinstance(first, blocks.Cover):
        for index, placed in enumerate(cover_pages(first, context)):
            page = "text" if index else section.page
            yield Sheet(page, (), "", "", placed, section.name, opens_section=index == 0)
    elif isinstance(first, blocks.Chart):
        yield from _charts(section, first, context)
    else:
        yield from map(_sheet, flow(run, context))


def _sheet(page: Flowed) -> Sheet:
    section, opens = page.section, page.opens_section
    note = section.note if opens else ""
    return Sheet(section.page, page.title, note, section.running, page.placed, section.name, opens)


def _charts(section: Section, chart: blocks.Chart, context: LayoutContext) -> Iterator[Sheet]:
    top = context.look.frame.title_mm + _CHART_GAP * context.style("title").lead_mm
    room = context.look.paper.text_bottom_mm - top
    for index, page in enumerate(chart_pages(chart, context, room)):
        placed = tuple(replace(box, y_mm=box.y_mm + top) for box in page.boxes)
        title = title_lines(page.title, context)
        opens = index == 0
        yield Sheet(section.page, title, "", page.running, placed, section.name, opens)
