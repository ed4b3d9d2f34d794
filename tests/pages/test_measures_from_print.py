"""Measures and arrows as they are printed, against one another and the trade's usual figures."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from math import ceil

import pypdfium2
import pytest

from publisher.model.pattern import Cords, Fringe, FringeShape
from publisher.press import print_book
from tests.support.grids import pattern_of
from tests.support.shop import SLUGS, book, demo, demo_pdf, demo_plan
from tests.support.told_chart import row_arrows

PARTS = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅛": 0.125, "⅜": 0.375, "⅝": 0.625, "⅞": 0.875}


def inches(text: str) -> float:
    """`21¼` or `¾`."""
    whole = text.rstrip("".join(PARTS))
    return float(whole or 0) + PARTS.get(text[len(whole) :], 0.0)


def text_of(pdf: bytes) -> str:
    """All that is printed, by another engine, each blank a plain one."""
    document = pypdfium2.PdfDocument(pdf)
    pages = [page.get_textpage().get_text_range().replace(" \r\n", "\r\n") for page in document]
    return "\n".join(pages).replace("\r\n", "\n").replace("\u00a0", " ")


@pytest.fixture(scope="module", params=SLUGS)
def slug(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(scope="module")
def text(slug: str) -> str:
    return text_of(demo_pdf(slug))


def test_arrows_point_the_way_that_rows_are_worked(slug: str) -> None:
    chart = demo_plan(slug).charts[0]
    assert row_arrows(demo_pdf(slug), chart.columns) == {
        row.row: {"right" if row.start == "left" else "left"} for row in chart.row_list[1:]
    }


@pytest.mark.parametrize("edition", ["left-handed", "handout", "large-print", "ink-saver"])
def test_arrows_of_other_editions(edition: str) -> None:
    chart = demo_plan("tide-lines", "left" if edition == "left-handed" else "right").charts[0]
    assert row_arrows(demo_pdf("tide-lines", edition), chart.columns) == {
        row.row: {"right" if row.start == "left" else "left"} for row in chart.row_list[1:]
    }


def test_the_dowel_reaches_over_all_cords(text: str) -> None:
    """By 3 cm at both sides (common practice: room for the hanging cord), to a whole centimetre."""
    dowel = re.search(r"Dowel, \S+ mm \(\S+ in\) thick, (\S+) cm \((\S+) in\) long", text)
    picture = re.search(r"Knotted picture (\S+) × \S+ cm", text)
    assert dowel and picture
    width = float(picture[1])
    assert width + 6 - 0.06 <= float(dowel[1]) < width + 7 + 0.06
    assert 0 <= inches(dowel[2]) - float(dowel[1]) / 2.54 < 0.25


def test_the_gauge_is_that_of_twenty_cords_and_rows(slug: str, text: str) -> None:
    """The picture's own size, shared by its cords and rows, gives the same, in halves of a cm."""
    piece = demo(slug).pieces[0]
    size = re.search(r"Knotted picture (\S+) × (\S+) cm", text)
    told = re.search(
        r"20 cords wide: (\S+) cm \((\S+) in\)\n20 rows high: (\S+) cm \((\S+) in\)", text
    )
    assert size and told
    columns, rows = len(piece.cells[0]), len(piece.cells)
    for whole, count, cm, inch in (
        (size[1], columns, told[1], told[2]),
        (size[2], rows, told[3], told[4]),
    ):
        twenty = float(whole) / count * 20
        assert float(cm) == pytest.approx(twenty, abs=0.26 + 0.26 / count * 20)
        assert inches(inch) == pytest.approx(float(cm) / 2.54, abs=0.25)


def test_tied_ends_keep_enough_not_to_slip(slug: str, text: str) -> None:
    """Common practice: 1.5 to 3 cm beyond the knot, of tails that are 10 cm long; those that a part
    is sewn on by as well."""
    words = " ".join(text.split())
    trimmed = re.findall(r"(?:Trim each end|, and trim) to (\d+) mm", words)
    assert len(trimmed) == (2 if any(step.deed == "sew" for step in demo(slug).assembly) else 1)
    assert all(15 <= int(length) <= 30 for length in trimmed)


@pytest.mark.parametrize("strands", [1, 2])
@pytest.mark.parametrize("shape", ["arch", "point"])
@pytest.mark.parametrize("columns", [10, 11])
def test_cords_cut_by_number_reach_the_fringe_at_their_place(
    strands: int, shape: FringeShape, columns: int
) -> None:
    """Mounted in the printed order, each where its number is: with two strands a fold's halves hang
    together, with one they are that cord and the next.

    A fold of cord 3 mm thick on a dowel of 12 mm takes 5.25 x 12 + 10 x 3 mm from its axis; rows
    are 5 mm high, and cord takes up 3 % in them. The fringe goes from 50 to 200 mm.
    """
    fringe = Fringe(shape, 200.0, 50.0)
    cords = Cords("A", strands)
    cells = ("A" * columns, "B" + "A" * (columns - 1))
    pattern = replace(pattern_of(*cells, fringe=fringe, cords=cords), terms="personal-use")
    listed = dict(cords_by_number(text_of(print_book(book(pattern)))))
    legs: dict[int, float] = {}
    for number, length_mm in sorted(listed.items()):
        hang = (length_mm / 1.1 - 5.25 * 12 - 10 * 3) / 2 - 2 * 5 * 1.03
        for cord in range(number, min(number + 3 - strands, columns + 1)):
            assert cord not in legs, "two folds at one place"
            legs[cord] = hang
    assert sorted(legs) == list(range(1, columns + 1))
    for cord, hang in legs.items():
        out = abs(cord - (columns + 1) / 2) / ((columns - 1) / 2)
        curve = 200.0 if out == 1 else 50.0  # what is told of an arch: its edges and its middle
        wanted = 200 - 150 * out if shape == "point" else curve
        assert hang >= wanted, f"cord {cord} is too short"
    assert len(listed) == ceil(columns / (3 - strands))


def cords_by_number(text: str) -> Iterator[tuple[int, float]]:
    """Each number of the list with its length in mm."""
    start = text.index("Hanging cords by number")
    lines = text[start : text.index("Shopping list", start)].split("\n")
    for line in lines:
        if found := re.fullmatch(r"([\d, –]+) (\d+\.\d) \S+", line.strip()):
            for part in found[1].split(", "):
                first, _, last = part.partition("–")
                for number in range(int(first), int(last or first) + 1):
                    yield number, float(found[2]) * 10
