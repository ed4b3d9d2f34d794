"""What every page of every demo book keeps to: nothing alone, nothing below the foot, no page that
is nearly empty."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest
from pypdfium2 import PdfPage

from publisher.knots import load_knots
from publisher.layout import lay_out
from publisher.layout.boxes import Box, Placed
from publisher.layout.context import LayoutContext
from publisher.layout.sheets import Sheet, lay_sections
from publisher.manuscript import blocks, write_manuscript
from publisher.manuscript.blocks import Cell, Manuscript, Section, Span, TableRow
from publisher.manuscript.edition import edition_hand
from publisher.model.pattern import Fringe
from publisher.plan import make_plan
from publisher.press import print_book
from publisher.source.mirror import for_left_hand
from tests.support.printed import opened
from tests.support.shop import DATE, SLUGS, demo, demo_plan, installed, manuscript, small

BOOKS = [
    (slug, edition, paper)
    for slug in (*SLUGS, "lock-keepers-key-cord")
    for edition in ("booklet", "handout", "large-print", "left-handed")
    for paper in ("a4", "letter")
]
LEAST = 0.2
"""Of the height below a page's title: a page with less on it is nearly empty."""
PARAGRAPH = blocks.Paragraph((Span("Some words that fill a line, and go on for another one."),))


@cache
def written(slug: str, edition: str = "booklet", paper: str = "a4") -> Manuscript:
    hand = edition_hand(installed(), edition)
    pattern = for_left_hand(demo(slug)) if hand == "left" else demo(slug)
    plan = demo_plan(slug, hand)
    return write_manuscript(pattern, plan, load_knots(), installed(), edition, paper, date=DATE)


@cache
def sheets(slug: str, edition: str, paper: str) -> tuple[Sheet, ...]:
    book = written(slug, edition, paper)
    return tuple(lay_sections(book.sections, LayoutContext(book)))


def laid(*sections: Section) -> list[Sheet]:
    book = replace(written("tide-lines"), sections=sections)
    return list(lay_sections(sections, LayoutContext(book)))


def section(name: str, lines: int, *, continues: bool = False, **more: object) -> Section:
    body = (PARAGRAPH,) * lines
    return replace(
        Section(name, "text", name.title(), f"In {name}", body, continues=continues), **more
    )


def words(sheet: Sheet) -> str:
    return " ".join(line.text for line in sheet.title)


@pytest.mark.parametrize(("slug", "edition", "paper"), BOOKS)
def test_nothing_stands_below_the_text(slug: str, edition: str, paper: str) -> None:
    bottom = written(slug, edition, paper).look.paper.text_bottom_mm
    for number, sheet in enumerate(sheets(slug, edition, paper), 1):
        for item in sheet.placed if sheet.page == "text" else ():
            assert item.y_mm + item.box.height_mm <= bottom + 1e-3, number


@pytest.mark.parametrize(("slug", "edition", "paper"), BOOKS)
def test_no_words_run_past_the_right_margin(slug: str, edition: str, paper: str) -> None:
    look = written(slug, edition, paper).look
    right = look.paper.width_mm - look.paper.margins.right_mm
    for number, sheet in enumerate(sheets(slug, edition, paper), 1):
        ends = [end for item in sheet.placed for end in line_ends(item)]
        assert not ends or max(ends) <= right + 1e-3, number


def line_ends(item: Placed, x_mm: float = 0.0) -> Iterator[float]:
    """Where lines of plain text end, in boxes within boxes too."""
    x_mm += item.x_mm
    if item.box.macro == "text.lines":
        for line in item.box.args["lines"]:
            yield x_mm + item.box.args["dx"] + line.width_mm
    for child in item.box.children:
        yield from line_ends(child, x_mm)


@pytest.mark.parametrize(("slug", "edition", "paper"), BOOKS)
def test_the_contents_stand_on_one_page(slug: str, edition: str, paper: str) -> None:
    """A handout has none."""
    pages = {
        number
        for number, sheet in enumerate(sheets(slug, edition, paper))
        for item in sheet.placed
        if item.box.macro == "text.contents"
    }
    assert len(pages) == (edition != "handout")


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_a_long_list_of_cords_goes_on_over_pages(paper: str) -> None:
    """A deep fringe: no two of its 100 cords at one side are alike."""
    pattern = small(("NG" * 100,), "kingfisher-over-reeds")
    deep = replace(pattern.charts[0], fringe=Fringe("point", longest_mm=900.0, shortest_mm=90.0))
    book = manuscript(replace(pattern, pieces=(deep,)), "booklet", paper)
    (materials,) = (section for section in book.sections if section.name == "materials")
    pages = list(lay_sections((materials,), LayoutContext(book)))
    for sheet in pages:
        for item in sheet.placed:
            assert item.y_mm + item.box.height_mm <= book.look.paper.text_bottom_mm + 1e-3
    assert len(pages) > 2


@pytest.mark.parametrize("slug", SLUGS)
def test_the_last_rows_stand_in_columns_that_are_about_even(slug: str) -> None:
    last = [one for one in sheets(slug, "booklet", "a4") if one.section == "rows"][-1]
    feet: dict[float, float] = {}
    heights: dict[int, float] = {}
    for item in last.placed:
        if item.box.row is not None:
            feet[item.x_mm] = item.y_mm + item.box.height_mm
            heights[item.box.row] = heights.get(item.box.row, 0.0) + item.box.height_mm
    left, right = feet.values()
    assert abs(left - right) <= max(heights.values()) + 8.0  # and the room between rows


@pytest.mark.parametrize(("slug", "edition", "paper"), BOOKS)
def test_nothing_at_a_foot_belongs_to_the_next_page(slug: str, edition: str, paper: str) -> None:
    """A heading, a table's head, a figure that has words to come."""
    for number, sheet in enumerate(sheets(slug, edition, paper), 1):
        assert not (sheet.placed and sheet.placed[-1].box.keep), number


@pytest.mark.parametrize(("slug", "edition", "paper"), BOOKS)
def test_no_page_is_nearly_empty(slug: str, edition: str, paper: str) -> None:
    look = written(slug, edition, paper).look
    top = look.frame.title_mm + look.frame.title_gap_mm
    for number, sheet in enumerate(sheets(slug, edition, paper), 1):
        if sheet.page == "text":
            body = [item for item in sheet.placed if item.box.macro != "rows.colours"]
            used = max(item.y_mm + item.box.height_mm for item in body) - top
            assert used >= LEAST * (look.paper.text_bottom_mm - top), number


def test_a_short_section_goes_on_below_another_only_as_a_whole() -> None:
    one, both = laid(section("first", 10)), laid(section("first", 10), section("last", 4))
    assert [len(one), len(both)] == [1, 2]
    below = section("last", 4, continues=True)
    (page,) = laid(section("first", 10), below)
    assert (words(page), page.running) == ("First", "In first")
    assert set(page.targets) == {"first", "last"}
    full, rest = laid(section("first", 29), below)
    assert (words(rest), rest.running, rest.opens_section) == ("Last", "In last", True)
    assert set(full.targets) == {"first"}
    assert set(rest.targets) == {"last"}


@pytest.mark.parametrize("lines", [4, 29])
def test_what_stands_beside_a_title_is_printed_wherever_on_a_page_the_title_is(lines: int) -> None:
    """How many of a part are made: in the middle of a page as at its head."""
    sections = (section("first", lines), section("leaf", 4, continues=True, note="make 12"))
    made = lay_out(replace(written("tide-lines"), sections=sections), installed())
    assert len(made.pages) == (1 if lines < 10 else 2)
    with opened(print_book(made)) as document:
        (page,) = (page for page in document if "Leaf" in text_of(page))
        assert re.search(r"^Leaf\s+make 12$", text_of(page), re.MULTILINE)


def text_of(page: PdfPage) -> str:
    return page.get_textpage().get_text_range().replace("\r\n", "\n")


def test_a_page_is_headed_by_the_section_that_its_first_words_belong_to() -> None:
    pages = laid(section("first", 10), section("long", 60, continues=True, title_later="Longer"))
    assert [words(page) for page in pages] == ["First", "Longer", "Longer"]
    assert [page.running for page in pages] == ["In first", "In long", "In long"]
    assert [page.opens_section for page in pages] == [True, False, False]


@pytest.mark.parametrize("more", [{"columns": 2}, {"foot": (PARAGRAPH,)}])
def test_nothing_goes_on_below_columns_or_above_a_foot(more: dict[str, object]) -> None:
    pages = laid(section("first", 2, **more), section("last", 2, continues=True))
    assert [words(page) for page in pages] == ["First", "Last"]


def test_a_last_page_of_a_few_lines_is_saved_by_less_room_between_things() -> None:
    """And only where a page is saved by it."""
    usual = gap(laid(section("first", 5))[0])
    most = next(n for n in range(5, 99) if len(laid(section("first", n + 1))) > 1)
    assert 0.7 * usual <= gap(laid(section("first", most))[0]) + 1e-6 < usual
    assert [gap(page) for page in laid(section("first", most + 1))] == pytest.approx([usual] * 2)


@pytest.mark.parametrize("columns", [1, 2])
def test_a_last_page_of_a_few_lines_that_stays_has_some_from_the_page_before(columns: int) -> None:
    look = written("tide-lines").look
    room = look.paper.text_bottom_mm - look.frame.title_mm - look.frame.title_gap_mm
    for lines in range(20, 100):
        *_, last = laid(section("first", lines, columns=columns))
        used = max(item.y_mm + item.box.height_mm for item in last.placed)
        used -= min(item.y_mm for item in last.placed)
        assert used >= LEAST / columns * room, lines


def gap(sheet: Sheet) -> float:
    """Between the first two things on a page."""
    above, below = sheet.placed[:2]
    return below.y_mm - above.y_mm - above.box.height_mm


def rows_of(sheet: Sheet) -> list[Box]:
    return [item.box for item in sheet.placed if item.box.macro == "table.row"]


@pytest.mark.parametrize("after", [0, 9])
@pytest.mark.parametrize("count", [2, 5, 8, 12, *range(30, 40), 70])
def test_no_row_of_a_table_stands_alone_nor_a_total_with_less_than_two(
    count: int, after: int
) -> None:
    """However far down a page the table begins, and whether its last page has more on it; a short
    one is never parted."""
    cells = (Cell("a word"), Cell("12"))
    rows = [TableRow(cells) for _ in range(count)] + [TableRow(cells, "total")]
    columns = (blocks.Column("What", 3), blocks.Column("How many", 1, right=True))
    table = blocks.Table(columns, tuple(rows))
    for before in range(31):
        body = (*(PARAGRAPH,) * before, table, *(PARAGRAPH,) * after)
        pages = laid(Section("list", "text", "A list", "A list", body))
        parts = [len(rows_of(page)) for page in pages if rows_of(page)]
        assert sum(parts) == count + 1
        assert len(parts) == 1 or (min(parts) >= 2 and parts[-1] >= 3), before
        assert len(parts) == 1 or count > 8, before


def test_a_group_that_goes_on_is_named_again_under_the_head() -> None:
    rows = [TableRow((Cell("Early"), Cell()), "group")]
    rows += [TableRow((Cell(f"row {n}"), Cell("1"))) for n in range(60)]
    columns = (blocks.Column("What", 3), blocks.Column("How many", 1))
    pages = laid(Section("list", "text", "A list", "A list", (blocks.Table(columns, tuple(rows)),)))
    assert len(pages) > 1
    for page in pages[1:]:
        again = page.placed[0].box
        assert [item.box.macro for item in again.children] == ["table.head", "table.group"]


def test_what_stands_over_rows_that_go_on_is_the_name_of_their_own_group() -> None:
    """And no name where a page begins with a group's own."""
    rows = []
    for at in range(40):
        rows.append(TableRow((Cell(f"Group {at}"), Cell()), "group"))
        rows += [TableRow((Cell(f"a row of {at}"), Cell("1")))] * (1 + at % 4)
    columns = (blocks.Column("What", 3), blocks.Column("How many", 1))
    table = blocks.Table(columns, tuple(rows))
    begun = set()
    for before in range(12):
        body = (*(PARAGRAPH,) * before, table)
        for page in laid(Section("list", "text", "A list", "A list", body))[1:]:
            over, first = (item.box for item in page.placed[:2])
            named = [child.box.args["line"].text for child in over.children[1:]]
            begun.add(first.macro)
            if first.macro == "table.row":
                own = first.args["cells"][0].words[0].line.text.removeprefix("a row of ")
                assert named == [f"Group {own}"]
            else:
                assert not named
    assert begun == {"table.row", "table.group"}


def test_every_page_of_the_back_map_has_its_title_and_the_legend_is_with_a_map() -> None:
    """In large type the map of the kingfisher's back takes several pages."""
    pages = [
        sheet
        for sheet in sheets("kingfisher-over-reeds", "large-print", "a4")
        if sheet.section == "finishing"
    ]
    maps = [sheet for sheet in pages if any(item.box.opening for item in sheet.placed)]
    assert len(maps) > 1
    assert {words(sheet) for sheet in maps} == {"The back: which ends to tie"}
    assert {words(sheet) for sheet in pages if sheet not in maps} == {"Finishing"}
    assert any(sheet.placed[-1].box.macro == "pictures.figure" for sheet in maps)


@pytest.mark.parametrize("slug", ["boats-at-the-weir", "tide-lines"])
def test_the_legend_of_the_back_stands_at_the_right_of_the_words_over_the_map(slug: str) -> None:
    (first, *_) = (sheet for sheet in sheets(slug, "booklet", "a4") if sheet.section == "finishing")
    said, legend = first.placed[0].box.children
    assert said.box.macro == "text.lines"
    assert legend.box.macro == "pictures.figure"
    assert legend.x_mm > max(line.width_mm for line in said.box.args["lines"])


def test_a_broad_piece_has_a_map_beside_its_key_that_is_wider_than_usual() -> None:
    usual = written("boats-at-the-weir").look.chart.key_map_mm
    for slug, share in (("boats-at-the-weir", 2.0), ("kingfisher-over-reeds", 1.0)):
        chart = next(s for s in sheets(slug, "booklet", "a4") if s.section == "chart")
        figure = chart.placed[-1].box.args["figure"]
        assert figure.width_mm == pytest.approx(share * usual, abs=0.5)


def test_steps_that_are_too_long_to_stand_beside_the_map_stand_below_it() -> None:
    """Yarns of all four fibres: a step for each."""
    pattern = demo("lantern-window")
    fibres = ("cotton", "wool", "jute", "synthetic")
    colours = tuple(
        replace(colour, yarn=replace(colour.yarn, name=f"yarn {n}", fibre=fibres[n % 4]))
        for n, colour in enumerate(pattern.colours)
    )
    book = manuscript(replace(pattern, colours=colours), "booklet", "letter")
    (finishing,) = (section for section in book.sections if section.name == "finishing")
    pages = list(lay_sections((finishing,), LayoutContext(book)))
    assert len(pages) > 1
    for sheet in pages:
        for item in sheet.placed:
            assert item.y_mm + item.box.height_mm <= book.look.paper.text_bottom_mm + 1e-3


@pytest.mark.parametrize("designer", ["", "Reedbank Knot Room"])
def test_a_foot_begins_with_the_house_or_without_it_with_the_version(designer: str) -> None:
    pattern = replace(demo("tide-lines"), designer=designer)
    text = write_manuscript(
        pattern, make_plan(pattern), load_knots(), installed(), "booklet", "a4", date=DATE
    )
    begins = f"{designer} · version " if designer else "version "
    pages = list(lay_out(text, installed()).pages)
    assert all(f">{begins}{pattern.version} · " in page.svg for page in pages[1:])
