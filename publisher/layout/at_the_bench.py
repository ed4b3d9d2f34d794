"""Set a manuscript as one web page to work from: chart beside rows, the rest above and below."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Iterator, Mapping
from dataclasses import replace

from publisher.drawing import draw_chart_tile, draw_cord_numbers, draw_swatch, plan_tiles
from publisher.drawing.chart.view import View
from publisher.fonts import font_file
from publisher.frozen import frozen
from publisher.layout.browsers import for_browsers
from publisher.layout.reading import ReadingItem, said_of
from publisher.layout.templating import web_page
from publisher.manuscript import blocks
from publisher.manuscript.blocks import Block, Chart, Manuscript, RowEntry, Section, Text
from publisher.manuscript.markup import without_pages
from publisher.model.figure import Figure
from publisher.model.plan import Row, Run
from publisher.store import NO_STORE, Store
from publisher.templates import Templates

_ENDLESS_MM = 1e5
"""A chart on a screen is scrolled, not cut."""
_SWATCH_MM = (5.0, 4.6)


@frozen
class BenchYarn:
    """A colour as it stands before its name. Numbers count from 1."""

    number: int
    letter: str
    name: str
    swatch: Figure


@frozen
class WorkedRun:
    """Neighbouring knots of one colour, and where they are in the chart's figure, in mm."""

    knots: int
    yarn: BenchYarn
    left_mm: float
    width_mm: float
    notes: tuple[Text, ...]
    """What is to be done on the way."""


@frozen
class WorkedRow:
    """A row in working order, and where it is in the chart's figure, in mm."""

    start: str
    spoken: str
    top_mm: float
    height_mm: float
    runs: tuple[WorkedRun, ...]


@frozen
class Worked:
    """A piece that is worked from a chart.

    `left_mm` and `width_mm` are those of its cells; `cords` are the cords' numbers alone, which
    stay in sight.
    """

    id: str
    name: str
    figure: Figure
    cords: Figure
    left_mm: float
    width_mm: float
    cell_mm: float
    rows: tuple[WorkedRow, ...]


@frozen
class BenchFigure:
    figure: Figure
    words: tuple[Text, ...]


@frozen
class BenchItem:
    """Something to read above or below the work: words, or figures with words under each."""

    said: ReadingItem | None = None
    figures: tuple[BenchFigure, ...] = ()
    numbered: bool = False


@frozen
class Read:
    """A section above or below the work."""

    name: str
    title: str
    shown: tuple[BenchItem, ...]


def lay_out_bench(manuscript: Manuscript, templates: Templates, store: Store = NO_STORE) -> str:
    """The whole book as HTML, in itself complete. TemplateError where the template is wrong."""
    yarns = _yarns(manuscript)
    above, below = _round_the_work(manuscript)
    return web_page(
        templates,
        "at-the-bench",
        manuscript.look,
        book=manuscript,
        book_name=f"{manuscript.title} {manuscript.version} {manuscript.edition}",
        pieces=tuple(_pieces(manuscript, yarns, store)),
        above=tuple(_read(section, manuscript) for section in above),
        sections=tuple(_read(section, manuscript) for section in below),
        yarns=tuple(yarns.values()),
        sign_font=b64encode(font_file("signs").read_bytes()).decode(),
        labels=manuscript.words,
    )


def _yarns(book: Manuscript) -> dict[str, BenchYarn]:
    return {
        colour.letter: BenchYarn(
            number,
            colour.letter,
            colour.name,
            for_browsers(draw_swatch(colour, book.colours, book.look, *_SWATCH_MM)),
        )
        for number, colour in enumerate(book.colours, 1)
    }


def _pieces(book: Manuscript, yarns: Mapping[str, BenchYarn], store: Store) -> Iterator[Worked]:
    """Each chart with its written rows, which come in the same order."""
    written = [_entries(section) for section in book.sections]
    rows = iter([entries for entries in written if entries])
    for section in book.sections:
        for block in section.body:
            if isinstance(block, Chart):
                yield _worked(block, next(rows, {}), book, yarns, store)


def _entries(section: Section) -> dict[int, RowEntry]:
    return {block.row: block for block in section.body if isinstance(block, RowEntry)}


def _worked(
    chart: Chart,
    entries: Mapping[int, RowEntry],
    book: Manuscript,
    yarns: Mapping[str, BenchYarn],
    store: Store,
) -> Worked:
    plan, look = chart.plan, book.look
    ratio = plan.cell.width_mm / plan.cell.height_mm
    tiles = plan_tiles(plan.columns, plan.rows, _ENDLESS_MM, _ENDLESS_MM, ratio, look)
    figure = draw_chart_tile(plan, book.colours, tiles, 1, look, chart.words, chart.places, store)
    view = View.of(plan, tiles, 1, look)
    name = plan.id.replace("-", " ")
    return Worked(
        plan.id,
        name[0].upper() + name[1:],
        for_browsers(figure),
        for_browsers(draw_cord_numbers(plan, tiles, look)),
        view.left,
        view.right - view.left,
        view.unit,
        tuple(_row(row, entries.get(row.row), view, book, yarns) for row in plan.row_list),
    )


def _row(
    row: Row,
    entry: RowEntry | None,
    view: View,
    book: Manuscript,
    yarns: Mapping[str, BenchYarn],
) -> WorkedRow:
    notes: list[tuple[int, Text]] = []
    if entry:
        (said,) = said_of(entry, book)
        notes = [(note.cord, text) for note, text in zip(entry.notes, said.items, strict=True)]
    return WorkedRow(
        row.start,
        entry.spoken if entry else "",
        view.y(row.row),
        view.cell_height,
        tuple(_run(run, notes, view, yarns) for run in row.runs),
    )


def _run(
    run: Run, notes: list[tuple[int, Text]], view: View, yarns: Mapping[str, BenchYarn]
) -> WorkedRun:
    first, last = sorted((run.first_cord, run.last_cord))
    here = tuple(text for cord, text in notes if first <= cord <= last)
    left, right = view.x(first), view.x(last + 1)
    return WorkedRun(run.knots, yarns[run.colour], left, right - left, here)


def _round_the_work(book: Manuscript) -> tuple[list[Section], list[Section]]:
    """The sections above the work and those below it, in the edition's order; of the written rows,
    how they are read. Where nothing is worked from a chart, all are below."""
    above: list[Section] = []
    below: list[Section] = []
    begun = not any(map(_is_work, book.sections))
    for section in book.sections:
        begun = begun or _is_work(section)
        if any(isinstance(block, RowEntry) for block in section.body):
            below.append(replace(section, title=section.running, body=()))
        elif section.title and not _is_work(section):
            (below if begun else above).append(section)
    return above, below


def _is_work(section: Section) -> bool:
    return any(isinstance(block, Chart | RowEntry) for block in section.body)


def _read(section: Section, book: Manuscript) -> Read:
    shown = tuple(one for block in (*section.lead, *section.body) for one in _shown(block, book))
    return Read(section.name, section.title_of(), shown)


def _shown(block: Block, book: Manuscript) -> Iterator[BenchItem]:
    if isinstance(block, blocks.Strip):
        yield BenchItem(figures=tuple(map(_drawn, block.pictures)), numbered=block.numbered)
    elif isinstance(block, blocks.Picture):
        yield BenchItem(figures=(_drawn(block),))
    elif isinstance(block, blocks.Beside):
        for inner in (one for part in block.parts for one in part):
            yield from _shown(inner, book)
    else:
        yield from (BenchItem(said) for said in said_of(block, book))


def _drawn(picture: blocks.Picture) -> BenchFigure:
    texts = (picture.words, *picture.more)
    return BenchFigure(
        for_browsers(picture.figure), tuple(without_pages(text) for text in texts if text)
    )
