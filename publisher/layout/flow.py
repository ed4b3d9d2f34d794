"""Fill pages with a section of words and figures, and with those that follow it on its pages."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import partial
from itertools import count

from publisher.frozen import frozen
from publisher.layout.boxes import Box, Placed, height, stack
from publisher.layout.compose import compose
from publisher.layout.context import LayoutContext
from publisher.layout.lines import Line, break_lines, shortened
from publisher.layout.maps import lead_with_legend, map_boxes
from publisher.layout.paginate import Area, even, fill
from publisher.manuscript import blocks
from publisher.manuscript.blocks import Block, Section

_LEAST_LINES = 3
_LEAST_MAP = 0.5
"""A map that had less than this share of its page beside other things has one of its own."""
_WHOLE = 0.6
"""Of a page: a section no longer than this goes on below another one only as a whole."""
_OVER_TITLE = 0.6
"""Above a section's title in the middle of a page, in lines of titles."""
_NEARLY_EMPTY, _TIGHT = 0.4, (0.7, 0.8, 0.9)
"""A last page of less than this is saved, if it can be, by less room between things: of these
shares, the most that does."""
_SMALLER = (0.9, 0.8, 0.72)
"""How much smaller figures may be to save a page: the first that does."""
_FEW_PAGES = 4
"""Of more pages than this, one is not worth smaller figures."""
_LEAST_USED = 0.2
"""Of a page: if one of them had less on it than this, no page is saved by smaller figures, and the
page before the last gives up some of its own."""
_SHORTER = (0.9, 0.8, 0.7, 0.6)
"""Of the page before the last: as much of it as may be used, the most that fills the last."""
_UNDER_LEAD_MM = 5.0
_NOTE_GAP_MM = 4.0
_OVER_FOOT_MM = 3.0


@frozen
class Flowed:
    """A page of sections that follow one another. `section` is the one that its first words
    belong to, and `title` what stands over them."""

    section: Section
    title: tuple[Line, ...]
    placed: tuple[Placed, ...]
    opens_section: bool


def goes_on(before: Section, section: Section) -> bool:
    """May a section begin below another one, on the same page?"""
    plain = all(one.columns == 1 and not one.foot for one in (before, section))
    filled = before.body and isinstance(before.body[-1], blocks.NoteLines)
    return section.continues and plain and not section.lead and not filled


def flow(sections: Sequence[Section], context: LayoutContext) -> list[Flowed]:
    """The pages of a section and of those that go on below it; with smaller figures, if it has
    them, where that saves a page."""
    section, pages = sections[0], list(_flowed(sections, context))
    room_mm = context.look.paper.text_bottom_mm - _top((), context)
    used_mm = sum(_height(page) for page in pages)
    could = len(pages) <= _FEW_PAGES and used_mm * _SMALLER[-1] <= room_mm * (len(pages) - 1)
    bodies = map(section.smaller, _SMALLER) if section.smaller and could else iter(())
    for body in bodies:
        fewer = list(_flowed((replace(section, body=body), *sections[1:]), context))
        least_mm = min(_height(page) for page in fewer)
        if len(fewer) < len(pages) and least_mm >= _LEAST_USED * room_mm:
            return fewer
    return pages


def _height(page: Flowed) -> float:
    """Return how far down a page is filled."""
    first, last = page.placed[:1], page.placed[-1:]
    return sum(item.y_mm + item.box.height_mm for item in last) - sum(item.y_mm for item in first)


def _flowed(sections: Sequence[Section], context: LayoutContext) -> Iterator[Flowed]:
    section = sections[0]
    paper, gap = context.look.paper, context.look.frame.column_gap_mm
    width, left = paper.text_width_mm, paper.margins.left_mm
    foot = compose(section.foot, context, width)
    bottom = paper.text_bottom_mm - (height(foot) + _OVER_FOOT_MM if foot else 0.0)
    top = _top(
        title_lines(section.title, context), context
    )  # as long as the longest: rows get figures
    lead, legend = _lead(section, context, width)
    lead_mm = height(lead) + _UNDER_LEAD_MM if lead else 0.0
    column = (width - gap * (section.columns - 1)) / section.columns
    after = _after(sections, context, width, bottom - top)
    boxes = _body(section, context, column, bottom - top - lead_mm, height(after), legend) + after

    def areas(page: int) -> list[Area]:
        begin = top + (lead_mm if page == 0 else 0.0)
        lefts = (left + index * (column + gap) for index in range(section.columns))
        return [Area(x, begin, bottom) for x in lefts]

    here, number = 0, 0  # the section that goes on, and which of its pages comes next
    for page, placed in enumerate(_pages(boxes, areas, section.columns)):
        begins = placed[0].box.begins if placed else None
        if begins is not None:
            here, number = begins, 0
        current, opens = sections[here], number == 0
        found = [item.box.row for item in placed if item.box.row is not None]
        later = number if not (placed and placed[0].box.opening) else 0
        title = title_lines(current.title_of(later, list(dict.fromkeys(found))), context)
        number += 1
        for item in placed[1:]:
            if item.box.begins is not None:
                here, number = item.box.begins, 1
        if page == 0:
            placed = (*stack(lead, left, top), *placed)
        placed = (*placed, *stack(foot, left, bottom + _OVER_FOOT_MM))
        yield Flowed(current, title, placed, opens)


def title_lines(words: str, context: LayoutContext) -> tuple[Line, ...]:
    if not words:
        return ()
    return break_lines(
        context.spans(words), context.style("title"), context.look.paper.text_width_mm
    )


def title_note(note: str, title: Sequence[Line], context: LayoutContext) -> Line:
    """Return what stands beside a title, in the room that its last line leaves."""
    room_mm = context.look.paper.text_width_mm - (title[-1].width_mm if title else 0.0)
    return shortened(note, context.style("heading"), room_mm - _NOTE_GAP_MM)


def _top(title: tuple[Line, ...], context: LayoutContext) -> float:
    """Return where the text begins: its first base line is a line below."""
    more = max(1, len(title)) - 1
    frame = context.look.frame
    return frame.title_mm + more * context.style("title").lead_mm + frame.title_gap_mm


def _lead(section: Section, context: LayoutContext, width: float) -> tuple[tuple[Box, ...], bool]:
    """Return what goes across the first page, and whether a map's legend is in it."""
    first = section.body[0] if section.body else None
    if isinstance(first, blocks.BackMap):
        both = lead_with_legend(first, section.lead, context, width)
        if both:
            return (both,), True
    return compose(section.lead, context, width), False


def _after(
    sections: Sequence[Section], context: LayoutContext, width: float, tall: float
) -> tuple[Box, ...]:
    """The boxes of all sections but the first, each under its title, which is left out where the
    page has it at its head."""
    found: list[Box] = []
    for index, section in enumerate(sections[1:], 1):
        first, *others = compose(section.body, context, width)
        title = _title_box(section, context)
        boxes = [title, replace(first, before_mm=0.0, begins=index), *others]
        if height(tuple(boxes)) <= _WHOLE * tall:
            boxes = [*(replace(box, keep=True) for box in boxes[:-1]), boxes[-1]]
        found += boxes
    return tuple(found)


def _title_box(section: Section, context: LayoutContext) -> Box:
    style = context.style("title")
    title = title_lines(section.title_of(), context)
    note = title_note(section.note, title, context) if section.note else None
    args = {"title": title, "note": note, "target": section.name}
    return Box(
        style.lead_mm * len(title) + context.look.frame.title_gap_mm,
        "text.title",
        args,
        before_mm=_OVER_TITLE * style.lead_mm,
        keep=True,
        between=True,
        least_mm=style.lead_mm * len(title),
        target=section.name,
    )


def _body(
    section: Section,
    context: LayoutContext,
    width: float,
    tall: float,
    after_mm: float,
    legend: bool,
) -> tuple[Box, ...]:
    """The section's boxes; a map of the back is drawn for the room that the others leave, and
    those of the sections after it if that is enough."""
    first, *rest = section.body
    last = section.body[-1]
    if isinstance(last, blocks.NoteLines) and not last.count:
        return _with_note_lines(section.body[:-1], context, width, tall)
    if not isinstance(first, blocks.BackMap):
        return compose(section.body, context, width)
    others = compose(tuple(rest), context, width)
    left = tall - sum(box.before_mm + box.height_mm for box in others)
    room = next((mm for mm in (left - after_mm, left) if mm > _LEAST_MAP * tall), tall)
    return (*map_boxes(first, context, width, room, legend=not legend), *others)


def _with_note_lines(
    body: tuple[Block, ...], context: LayoutContext, width: float, tall: float
) -> tuple[Box, ...]:
    """Blocks, and lines to write on that fill what is left of the page."""
    others = compose(body, context, width)
    line = compose((blocks.NoteLines(1),), context, width)[0]
    left = (tall - sum(box.before_mm + box.height_mm for box in others)) % tall
    lines = max(_LEAST_LINES, int((left or tall) / (line.before_mm + line.height_mm)))
    return (*others, *[line] * lines)


def _pages(
    boxes: Sequence[Box], areas: Callable[[int], list[Area]], columns: int
) -> Iterator[tuple[Placed, ...]]:
    """Yield what stands on each page; side by side, the columns of the last one are even."""
    pages = _filled(boxes, areas, columns)
    room_mm = sum(area.height_mm for area in areas(len(pages) - 1))
    if len(pages) > 1 and _used_mm(pages[-1]) < _NEARLY_EMPTY * room_mm:
        saved = None
        for share in _TIGHT:
            tight = [_tighter(box, share) for box in boxes]
            fewer = _filled(tight, areas, columns)
            if len(fewer) >= len(pages):
                break
            saved = tight, fewer
        boxes, pages = saved or (boxes, pages)
        continued = pages[-1][0][0].box.begins is None
        if continued and _used_mm(pages[-1]) < _LEAST_USED * room_mm:
            pages = _shared(boxes, areas, columns, pages, _LEAST_USED * room_mm)
    if columns > 1:
        places = {id(box): index for index, box in enumerate(boxes)}
        here = (places.get(id(item.box)) for items in pages[-1] for item in items)
        rest = boxes[min(index for index in here if index is not None) :]
        pages[-1] = even(rest, areas(len(pages) - 1))
    for page in pages:
        yield tuple(item for items in page for item in items)


def _filled(
    boxes: Sequence[Box], areas: Callable[[int], list[Area]], columns: int
) -> list[Sequence[tuple[Placed, ...]]]:
    """The columns of each page."""
    found = list(fill(boxes, (area for page in count() for area in areas(page))))
    return [found[start : start + columns] for start in range(0, len(found), columns)]


def _shared(
    boxes: Sequence[Box],
    areas: Callable[[int], list[Area]],
    columns: int,
    pages: list[Sequence[tuple[Placed, ...]]],
    least_mm: float,
) -> list[Sequence[tuple[Placed, ...]]]:
    """The pages, with some of the last but one on the last, so that this is not nearly empty."""

    def shorter(share: float, page: int) -> list[Area]:
        share = share if page == len(pages) - 2 else 1.0
        return [replace(a, bottom_mm=a.top_mm + share * a.height_mm) for a in areas(page)]

    for share in _SHORTER:
        shared = _filled(boxes, partial(shorter, share), columns)
        if len(shared) > len(pages):
            break
        if _used_mm(shared[-1]) >= least_mm:
            return shared
    return pages


def _used_mm(page: Sequence[tuple[Placed, ...]]) -> float:
    return sum(items[-1].y_mm + items[-1].box.height_mm - items[0].y_mm for items in page if items)


def _tighter(box: Box, share: float) -> Box:
    """With less room above it, and below it if it stands between others."""
    if not (box.before_mm or box.between):
        return box
    less = (1 - share) * (box.height_mm - box.least_mm) if box.between else 0.0
    return replace(box, before_mm=box.before_mm * share, height_mm=box.height_mm - less)
