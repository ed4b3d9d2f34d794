"""Turn a manuscript into what can be read aloud: everything but the pictures, in order."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from publisher.drawing import back_tasks
from publisher.frozen import frozen
from publisher.manuscript import blocks
from publisher.manuscript.blocks import Block, Manuscript, Section, Span, Text
from publisher.manuscript.markup import plain, without_pages


@frozen
class ReadingItem:
    """One thing to read. `kind`: title, words, list, steps, facts, table, row.

    `level` of a title is 1 to 3; `items` are a list's, a table's rows of cells (the head first),
    or the pairs of facts.
    """

    kind: str
    text: Text = ()
    level: int = 0
    target: str = ""
    items: tuple[Any, ...] = ()


def read_aloud(manuscript: Manuscript) -> tuple[ReadingItem, ...]:
    """The whole book, linear, without page numbers."""
    said: list[ReadingItem] = []
    for section in manuscript.sections:
        said += _section(section, manuscript)
    return tuple(said)


def _section(section: Section, book: Manuscript) -> Iterator[ReadingItem]:
    rows = [block.row for block in section.body if isinstance(block, blocks.RowEntry)]
    if section.title:
        yield ReadingItem("title", (Span(section.title_of(rows=rows)),), 2, section.name)
    for block in (*section.lead, *section.body):
        yield from said_of(block, book)


def said_of(block: Block, book: Manuscript) -> Iterator[ReadingItem]:
    """Yield what there is to read of one block; nothing of a picture."""
    say = _SAYERS.get(type(block))
    if say is not None:
        yield from say(block, book)


def _heading(block: blocks.Heading, book: Manuscript) -> Iterator[ReadingItem]:
    yield ReadingItem("title", (Span(block.text),), 3, block.target or "")
    if block.lead_in:
        yield ReadingItem("words", (Span(block.lead_in),))


def _paragraph(block: blocks.Paragraph, book: Manuscript) -> Iterator[ReadingItem]:
    yield ReadingItem("words", without_pages(block.text))


def _items(block: blocks.Items, book: Manuscript) -> Iterator[ReadingItem]:
    items = tuple(without_pages(item) for item in block.items)
    yield ReadingItem("steps" if block.numbered else "list", items=items)


def _facts(block: blocks.Facts, book: Manuscript) -> Iterator[ReadingItem]:
    yield ReadingItem("facts", items=block.facts)


def _table(block: blocks.Table, book: Manuscript) -> Iterator[ReadingItem]:
    head = tuple(_head(column) for column in block.columns)
    rows: list[tuple[str, ...]] = []
    for row in block.rows:
        if row.kind == "group":
            if rows:
                yield ReadingItem("table", items=(head, *rows))
            rows = []
            yield ReadingItem("words", (Span(row.cells[0].text, strong=True),))
        else:
            rows.append(tuple(_cell(cell) for cell in row.cells))
    yield ReadingItem("table", items=(head, *rows))


def _head(column: blocks.Column) -> str:
    """A column's title, with its unit after a comma, or with the words under it."""
    if not column.unit:
        return column.title
    return f"{column.title}{', ' if column.right else ' '}{column.unit}"


def _cell(cell: blocks.Cell) -> str:
    words = f"{cell.text} ({cell.second})" if cell.second else cell.text
    return " ".join(words.split())


def _row(block: blocks.RowEntry, book: Manuscript) -> Iterator[ReadingItem]:
    words = book.words["at_cord"]
    notes = tuple(
        tuple(
            Span(words.format(cord=note.cord, note=span.text)) if index == 0 else span
            for index, span in enumerate(_merged(note.text))
        )
        for note in block.notes
    )
    yield ReadingItem("row", block.runs, target=block.spoken, items=notes)


def _merged(text: Text) -> Text:
    return (Span(plain(text)),)


def _picture(block: blocks.Picture, book: Manuscript) -> Iterator[ReadingItem]:
    for text in (block.words, *block.more):
        if text:
            yield ReadingItem("words", without_pages(text))


def _strip(block: blocks.Strip, book: Manuscript) -> Iterator[ReadingItem]:
    words = tuple(
        without_pages(text) for picture in block.pictures for text in (picture.words, *picture.more)
    )
    yield ReadingItem("steps" if block.numbered else "list", items=words)


def _beside(block: blocks.Beside, book: Manuscript) -> Iterator[ReadingItem]:
    for part in block.parts:
        for inner in part:
            yield from said_of(inner, book)


def _caution(block: blocks.Caution, book: Manuscript) -> Iterator[ReadingItem]:
    yield ReadingItem("title", (Span(block.heading),), 3)
    yield ReadingItem("list", items=block.items)


def _colours(block: blocks.ColourLine, book: Manuscript) -> Iterator[ReadingItem]:
    names = {colour.letter: colour.name for colour in book.colours}
    yield ReadingItem(
        "list", items=tuple((Span(f"{letter}: {names[letter]}"),) for letter in block.letters)
    )


def _back(block: blocks.BackMap, book: Manuscript) -> Iterator[ReadingItem]:
    """The map in words: which ends to tie, by row and cord."""
    items = []
    for task in back_tasks(block.plan):
        first, *others = task.ends
        values = {"row": first.row, "cord": first.cord}
        if others:
            values |= {"other_row": others[0].row, "other_cord": others[0].cord}
        here = bool(others) and (first.row, first.cord) == (others[0].row, others[0].cord)
        pair = "spoken_pair_here" if here else "spoken_pair"
        key = pair if others else "spoken_single"
        items.append((Span(block.words[key].format(**values)),))
    yield ReadingItem("steps", items=tuple(items))
    for inner in block.beside:
        yield from said_of(inner, book)


def _cover(block: blocks.Cover, book: Manuscript) -> Iterator[ReadingItem]:
    yield ReadingItem("title", (Span(block.title),), 1, "cover")
    if block.subtitle:
        yield ReadingItem("words", (Span(block.subtitle),))
    yield ReadingItem("facts", items=block.facts)


_SAYERS: dict[type, Callable[[Any, Manuscript], Iterator[ReadingItem]]] = {
    blocks.Heading: _heading,
    blocks.Paragraph: _paragraph,
    blocks.Items: _items,
    blocks.Facts: _facts,
    blocks.Table: _table,
    blocks.RowEntry: _row,
    blocks.Picture: _picture,
    blocks.Strip: _strip,
    blocks.Beside: _beside,
    blocks.Caution: _caution,
    blocks.ColourLine: _colours,
    blocks.BackMap: _back,
    blocks.Cover: _cover,
}
