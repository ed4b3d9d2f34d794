"""Rows in errata are read as in the booklet: down one column, then down the next."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime

import pytest

from publisher.errata.compare import content_of, find_errata
from publisher.errata.sheet import write_errata
from publisher.errata.sheet.context import EarlierRelease
from publisher.knots import load_knots
from publisher.layout import lay_out, lay_out_text
from publisher.manuscript.blocks import Beside, Manuscript, RowEntry
from publisher.manuscript.options import Form
from publisher.model.pattern import Pattern
from publisher.plan import make_plan
from publisher.press import print_book
from tests.support.shop import demo, installed

DAY = datetime(2026, 3, 20, tzinfo=UTC)
BEFORE = demo("kingfisher-over-reeds")
FEW = ((21, 1, "N"),)
MANY = ((20, 5, "N"), (22, 8, "NN"), (26, 6, "B"), (30, 10, "B"), (33, 3, "O"), (34, 5, "O"))


def with_cells(*edits: tuple[int, int, str]) -> Pattern:
    """The kingfisher with other knots: (row, cord, letters from there on)."""
    piece = BEFORE.charts[0]
    rows = list(piece.cells)
    for row, cord, letters in edits:
        line = rows[row - 1]
        rows[row - 1] = line[: cord - 1] + letters + line[cord - 1 + len(letters) :]
    return replace(BEFORE, pieces=(replace(piece, cells=tuple(rows)), *BEFORE.pieces[1:]))


def errata(after: Pattern, form: Form = "pages") -> Manuscript:
    plan = make_plan(after)
    found = find_errata(content_of(BEFORE, make_plan(BEFORE), ""), content_of(after, plan, ""))
    earlier = EarlierRelease("1.0", None)
    return write_errata(
        after, plan, load_knots(), installed(), "a4", found, earlier, date=DAY, form=form
    )


def columns(beside: Beside) -> list[list[int]]:
    """The rows of each column."""
    return [[row.row for row in part if isinstance(row, RowEntry)] for part in beside.parts]


def test_a_few_rows_stand_below_all_else_in_two_columns() -> None:
    (section,) = errata(with_cells(*FEW)).sections
    besides = [block for block in section.body if isinstance(block, Beside)]
    assert sum(any(columns(block)) for block in besides) == 1
    assert section.body[-1] is besides[-1]
    left, right = columns(besides[-1])
    assert left and right and [*left, *right] == sorted({*left, *right})
    assert abs(len(left) - len(right)) <= 1


def test_more_rows_have_pages_of_their_own_in_columns_that_go_on() -> None:
    manuscript = errata(with_cells(*MANY))
    sheet, rows = manuscript.sections
    assert rows.title == "The rows as they are now" and rows.columns == 2
    numbers = [block.row for block in rows.body if isinstance(block, RowEntry)]
    assert len(numbers) == len(rows.body) > 5 and numbers == sorted(numbers)
    assert not any(any(columns(block)) for block in sheet.body if isinstance(block, Beside)), (
        "no row is told twice"
    )
    assert print_book(lay_out(manuscript, installed())).startswith(b"%PDF")


@pytest.mark.parametrize("edits", [FEW, MANY])
def test_they_are_told_once_and_in_order_to_those_who_listen(
    edits: tuple[tuple[int, int, str], ...],
) -> None:
    manuscript = errata(with_cells(*edits), "text")
    (section,) = manuscript.sections
    (numbers,) = (
        [row for part in columns(block) for row in part]
        for block in section.body
        if isinstance(block, Beside) and any(columns(block))
    )
    assert numbers == sorted(set(numbers)) and len(numbers) > 2
    assert lay_out_text(manuscript).count("The rows as they are now") == 1
