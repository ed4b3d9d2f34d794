"""Written rows on pages: however long a row is, all of it is there, in its order, on the paper."""

from __future__ import annotations

import random
import re
from functools import cache

import pytest

from publisher.layout.boxes import Box
from publisher.layout.context import LayoutContext
from publisher.layout.sheets import Sheet, lay_sections
from publisher.manuscript.blocks import Manuscript, RowEntry, Section
from tests.support.shop import manuscript, small

EDITIONS = ("handout", "booklet", "large-print")


def noise(columns: int, rows: int) -> tuple[str, ...]:
    pick = random.Random(columns).choices
    return tuple("".join(pick("CDS", k=columns)) for _ in range(rows))


@cache
def long_rows(edition: str) -> tuple[Manuscript, Section, tuple[Sheet, ...]]:
    """A strip of 200 columns: a row has some 130 runs and as many notes."""
    book = manuscript(small(noise(200, 10)), edition)
    (rows,) = (section for section in book.sections if section.name == "rows")
    return book, rows, tuple(lay_sections((rows,), LayoutContext(book)))


def columns(sheet: Sheet) -> list[list[Box]]:
    """What stands in each column of rows, from the left."""
    found: dict[float, list[Box]] = {}
    for item in sheet.placed:
        if item.box.row is not None or item.box.macro == "rows.again":
            found.setdefault(item.x_mm, []).append(item.box)
    return [found[x] for x in sorted(found)]


def words(box: Box) -> str:
    cord = box.args["cord"].text + " " if "cord" in box.args else ""
    return cord + " ".join(line.text for line in box.args.get("lines", ()))


def bare(text: str) -> str:
    return "".join(text.split())


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_long_row_never_runs_over_the_foot(edition: str) -> None:
    book, _, sheets = long_rows(edition)
    bottom = book.look.paper.text_bottom_mm
    for number, sheet in enumerate(sheets, 1):
        foot = [item for item in sheet.placed if item.box.macro == "rows.colours"]
        ends = [i.y_mm + i.box.height_mm for i in sheet.placed if i not in foot]
        assert max(ends) <= (foot[0].y_mm if foot else bottom) + 1e-3, number


@pytest.mark.parametrize("edition", EDITIONS)
def test_all_of_a_long_row_is_there_in_its_order(edition: str) -> None:
    _, rows, sheets = long_rows(edition)
    printed: dict[int, str] = {}
    for box in (box for sheet in sheets for column in columns(sheet) for box in column):
        if box.row is not None:
            printed[box.row] = printed.get(box.row, "") + bare(words(box))
    for entry in (block for block in rows.body if isinstance(block, RowEntry)):
        said = ["".join(span.text for span in entry.runs)]
        between = "; " if entry.run_in else " "
        notes = (f"{n.cord} {''.join(span.text for span in n.text)}" for n in entry.notes)
        assert printed[entry.row] == bare(" ".join((*said, between.join(notes))))


@pytest.mark.parametrize("edition", EDITIONS)
def test_the_runs_of_a_long_row_have_notes_below_them(edition: str) -> None:
    """And what goes on in another column says which row it is."""
    _, _, sheets = long_rows(edition)
    for column in (column for sheet in sheets for column in columns(sheet)):
        assert column[-1].macro != "rows.runs"
        opening = column[0].macro == "rows.runs" and column[0].args["first"]
        assert opening or column[0].macro == "rows.again"


@pytest.mark.parametrize("edition", EDITIONS)
def test_what_goes_on_is_headed_by_the_number_and_the_side_of_its_own_row(edition: str) -> None:
    _, rows, sheets = long_rows(edition)
    starts = {entry.row: entry.start for entry in rows.body if isinstance(entry, RowEntry)}
    found = 0
    for head, first in (column[:2] for sheet in sheets for column in columns(sheet)):
        if head.macro == "rows.again":
            assert first.row is not None
            assert head.args["number"].text == str(first.row)
            assert head.args["start"] == starts[first.row]
            found += 1
    assert found > 4


def test_a_row_of_the_usual_length_is_never_parted() -> None:
    book = manuscript(small(noise(40, 30)), "handout")
    (rows,) = (section for section in book.sections if section.name == "rows")
    where: dict[int, set[tuple[int, int]]] = {}
    for number, sheet in enumerate(lay_sections((rows,), LayoutContext(book))):
        assert re.match(r"Rows? \d", " ".join(line.text for line in sheet.title))
        for at, column in enumerate(columns(sheet)):
            for box in column:
                where.setdefault(box.row or 0, set()).add((number, at))
    assert sorted(where) == list(range(1, 31))
    assert all(len(places) == 1 for places in where.values())
