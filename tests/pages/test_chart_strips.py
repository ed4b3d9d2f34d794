"""Low charts under one another on a page: each whole, in order, with one key for all of them."""

from __future__ import annotations

import io
import itertools
import re
from collections.abc import Iterator
from functools import cache
from typing import Any

import pikepdf
import pytest

from publisher.layout import lay_out
from publisher.layout.boxes import Placed
from publisher.layout.context import LayoutContext
from publisher.layout.sheets import Sheet, lay_sections
from publisher.manuscript.blocks import Chart
from publisher.press import print_book
from tests.support.printed import elements, opened
from tests.support.shop import demo, demo_pdf, installed, manuscript, small

STRIP = ("NWNWWGGNNW" * 20,) * 10
SEVERAL = re.compile(r"Charts \d+ (to|and) \d+: rows")
EDITIONS = ["booklet", "handout", "ink-saver", "left-handed", "large-print"]
PAPERS = ["a4", "letter"]


@cache
def sheets(edition: str, paper: str) -> tuple[tuple[Sheet, ...], LayoutContext]:
    """The pages of a chart of 200 cords and 10 rows."""
    book = manuscript(small(STRIP, "kingfisher-over-reeds"), edition, paper)
    sections = [s for s in book.sections if s.body and isinstance(s.body[0], Chart)]
    context = LayoutContext(book)
    return tuple(lay_sections(sections, context)), context


def charts(sheet: Sheet) -> list[Placed]:
    figures = (item for item in sheet.placed if item.box.macro == "pictures.figure")
    return [item for item in figures if item.box.args["figure"].alt.startswith("Chart ")]


def keys(sheet: Sheet) -> list[Placed]:
    return [item for item in sheet.placed if item.box.macro == "pictures.key_head"]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("edition", [one for one in EDITIONS if one != "large-print"])
def test_a_wide_low_piece_takes_three_pages(edition: str, paper: str) -> None:
    found, _ = sheets(edition, paper)
    assert [len(charts(sheet)) for sheet in found] == [3, 3, 2]
    assert [len(keys(sheet)) for sheet in found] == [1, 1, 1]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("edition", EDITIONS)
def test_charts_stand_whole_under_one_another_and_the_key_under_them(
    edition: str, paper: str
) -> None:
    found, context = sheets(edition, paper)
    bottom = context.look.paper.text_bottom_mm
    for sheet in found:
        drawn = charts(sheet)
        ends = [(item.y_mm, item.y_mm + item.box.height_mm) for item in drawn]
        assert all(below[0] > above[1] for above, below in itertools.pairwise(ends))
        assert len({item.x_mm for item in drawn}) <= 1
        assert all(key.y_mm > ends[-1][1] for key in keys(sheet))
        assert all(item.y_mm + item.box.height_mm <= bottom + 1e-6 for item in sheet.placed)


@pytest.mark.parametrize("edition", EDITIONS)
def test_every_chart_is_there_once_in_its_order(edition: str) -> None:
    found, _ = sheets(edition, "a4")
    told = [item.box.args["figure"].alt for sheet in found for item in charts(sheet)]
    numbers = [re.match(r"Chart (\d+) of (\d+): rows 1 to 10,", alt) for alt in told]
    assert [int(one[1]) for one in numbers if one] == list(range(1, len(told) + 1))


def test_titles_say_which_charts_a_page_has_and_fit_in_a_line() -> None:
    found, _ = sheets("booklet", "a4")
    assert [[line.text for line in sheet.title] for sheet in found] == [
        ["Charts 1 to 3: rows 1 to 10, cords 1 to 77"],
        ["Charts 4 to 6: rows 1 to 10, cords 76 to 152"],
        ["Charts 7 and 8: rows 1 to 10, cords 151 to 200"],
    ]
    assert [sheet.running for sheet in found] == [
        "Charts 1 to 3 of 8",
        "Charts 4 to 6 of 8",
        "Charts 7 and 8 of 8",
    ]


@pytest.mark.parametrize(("columns", "parts"), [(20, 1), (40, 2), (80, 4)])
def test_each_page_of_a_chart_in_parts_shows_where_in_the_picture_it_is(
    columns: int, parts: int
) -> None:
    book = manuscript(small(("NW" * (columns // 2),) * 20, "kingfisher-over-reeds"))
    sections = [s for s in book.sections if s.body and isinstance(s.body[0], Chart)]
    pages = list(lay_sections(sections, LayoutContext(book)))
    assert sum(len(charts(sheet)) for sheet in pages) == parts
    for sheet in pages if parts > 1 else ():
        figures = [item.box.args.get("figure") for item in sheet.placed]
        (told,) = (one.alt for one in figures if one and one.alt.startswith("The whole picture"))
        here = [one.box.args["figure"].alt.split(":")[0].split()[1] for one in charts(sheet)]
        assert re.findall(r"\d+", told) == [*dict.fromkeys((here[0], here[-1])), str(parts)]


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("edition", ["booklet", "ink-saver", "handout", "left-handed"])
def test_a_broad_demo_piece_takes_seven_pages_where_ten_had_one_chart_each(
    edition: str, paper: str
) -> None:
    book = manuscript(demo("boats-at-the-weir"), edition, paper)
    sections = [s for s in book.sections if s.body and isinstance(s.body[0], Chart)]
    pages = list(lay_sections(sections, LayoutContext(book)))
    assert sum(len(charts(sheet)) for sheet in pages) <= 15
    assert len(pages) <= 8


def test_a_screen_reader_meets_the_charts_in_their_order_and_one_key_a_page() -> None:
    book = lay_out(manuscript(small(STRIP, "kingfisher-over-reeds")), installed())
    data = print_book(book)
    with pikepdf.open(io.BytesIO(data)) as pdf:
        alts = [str(one.Alt) for one in walk(pdf.Root.StructTreeRoot) if "/Alt" in one]
        with pdf.open_outline() as marks:
            (chart,) = (mark for mark in marks.root if mark.title == "The chart")
            assert chart.destination or chart.action
    found = [re.match(r"Chart (\d) of 8|(Key) to", alt) for alt in alts]
    order = "".join(one[1] or "k" for one in found if one)
    assert order == "123k456k78k"


def walk(element: Any) -> Iterator[Any]:
    inner = element.get("/K", [])
    for one in inner if isinstance(inner, pikepdf.Array) else [inner]:
        if isinstance(one, pikepdf.Dictionary) and "/S" in one:
            yield one
            yield from walk(one)


def test_pages_of_strips_are_read_from_their_title_on() -> None:
    with opened(demo_pdf("boats-at-the-weir")) as document:
        pages = [[one.text for one in elements(page)] for page in document]
    strips = [texts for texts in pages if any(map(SEVERAL.match, texts))]
    assert len(strips) == 2
    for texts in strips:
        assert SEVERAL.match(texts[0])
        assert sum(text.startswith("Key") for text in texts) == 1
