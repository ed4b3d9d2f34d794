"""A text without a blank, however long, stays on its page and clear of what stands beside it."""

from __future__ import annotations

import dataclasses
import io
import re
from functools import cache
from itertools import pairwise

import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.catalogue.build.pipeline import Pipeline
from publisher.knots import load_knots
from publisher.layout import lay_out
from publisher.layout.context import LayoutContext
from publisher.layout.lines import shortened, text_width
from publisher.layout.rows import colour_line
from publisher.layout.sheets import lay_sections
from publisher.manuscript.blocks import ColourLine, Manuscript
from publisher.manuscript.edition import house_look
from publisher.model.book import Book
from publisher.plan import make_plan
from publisher.press import print_book
from publisher.store import NO_STORE
from tests.support.printed import elements, opened
from tests.support.shop import DATE, book, demo, installed, manuscript

LONG = "Kingfisher" * 30
LOOK = house_look(installed(), "a4")
SMALL = LOOK.type["furniture"]
_TEXT = re.compile(r'<text x="([\d.]+)"[^>]*>([^<]*)</text>')


@pytest.mark.parametrize(
    ("text", "width_mm", "shown"),
    [
        ("Tide lines", 60.0, "Tide lines"),
        ("Kingfisher over the reeds", 30.0, "Kingfisher over the…"),
        ("Kingfisher over the reeds", 12.0, "Kingfis…"),
        ("e\u0301" * 30, 12.0, "e\u0301e\u0301e\u0301e\u0301e\u0301e\u0301…"),
        ("Kingfisher", 0.1, "K…"),
    ],
)
def test_a_line_is_cut_after_a_word_or_in_the_first(text: str, width_mm: float, shown: str) -> None:
    line = shortened(text, SMALL, width_mm)
    assert line.text == shown
    assert line.width_mm == pytest.approx(text_width(shown, SMALL))


def rows(made: Book) -> list[list[tuple[float, float]]]:
    """Of each page, from where to where each stretch of text goes, in mm, by its base line."""
    pages = []
    for page in pypdfium2.PdfDocument(io.BytesIO(print_book(made))):
        text = page.get_textpage()
        boxes = [text.get_rect(at) for at in range(text.count_rects())]
        pages.append([(left / 72 * 25.4, right / 72 * 25.4) for left, _, right, _ in boxes])
    return pages


def check_sides(made: Book) -> None:
    edge = LOOK.paper.width_mm - LOOK.paper.margins.right_mm
    for number, boxes in enumerate(rows(made), 1):
        assert max(right for _, right in boxes) < edge + 1.0, number


def test_a_title_without_a_blank_stays_on_its_pages() -> None:
    pattern = dataclasses.replace(
        demo("tide-lines"), title=LONG, subtitle=LONG, designer=LONG[:100], level=LONG[:100]
    )
    check_sides(book(pattern))


def test_a_word_in_parts_is_one_word_to_a_reader_of_the_tags() -> None:
    about = f"One {LONG} and {LONG}, two."
    made = book(dataclasses.replace(demo("tide-lines"), about=(about,), level=LONG))
    with opened(print_book(made)) as document:
        read = [element.text for page in document for element in elements(page)]
    assert about in read
    assert LONG in read


def test_the_header_never_runs_into_the_name_of_the_section() -> None:
    made = book(dataclasses.replace(demo("tide-lines"), title=LONG))
    for page in made.pages[1:]:
        (title, words), (section, _) = _TEXT.findall(page.frame)[:2]
        assert words.endswith("…")
        assert float(title) + text_width(words, SMALL) + 4 <= float(section)


def test_an_index_of_a_house_without_a_blank_stays_on_its_page() -> None:
    pattern = dataclasses.replace(demo("tide-lines"), designer=LONG[:100], title=LONG)
    stages, templates = Pipeline(), installed()
    entry = stages.write_entry(pattern, make_plan(pattern), load_knots(), templates, NO_STORE)
    manuscript = stages.write_index([entry], {pattern.slug: ()}, templates, "a4", DATE)
    check_sides(lay_out(manuscript, templates))


@settings(max_examples=20)
@given(st.lists(st.integers(1, 40), min_size=1, max_size=12), st.sampled_from(["a4", "letter"]))
def test_a_colours_name_stays_clear_of_the_column_beside_it(letters: list[int], paper: str) -> None:
    """In lists to shop and to cut from, where a swatch stands before it. `letters`: how many each
    of its words has."""
    name = " ".join("r" * count for count in letters)
    pattern = demo("tide-lines")
    colours = tuple(dataclasses.replace(colour, name=name) for colour in pattern.colours)
    written = manuscript(dataclasses.replace(pattern, colours=colours), paper=paper)
    sections = [one for one in written.sections if one.name == "materials"]
    rows = [
        item.box.args["cells"]
        for sheet in lay_sections(sections, LayoutContext(written))
        for item in sheet.placed
        if item.box.macro == "table.row"
    ]
    assert sum(cells[0].swatch is not None for cells in rows) >= 2 * len(colours)
    for cells in rows:
        for cell, after in pairwise(cells):
            assert all(word.x + word.line.width_mm <= after.x + 1e-6 for word in cell.words)


@cache
def demo_manuscript() -> Manuscript:
    return manuscript(demo("tide-lines"))


@settings(max_examples=20)
@given(st.lists(st.integers(1, 30), min_size=2, max_size=6))
def test_the_colours_under_the_rows_stay_on_their_page_in_as_many_lines_as_they_need(
    letters: list[int],
) -> None:
    """`letters`: how many each name has."""
    pattern = demo("tide-lines")
    base = pattern.colours[0]
    names = zip("ABCDEF", letters, strict=False)
    colours = tuple(dataclasses.replace(base, letter=x, name="r" * n) for x, n in names)
    written = dataclasses.replace(demo_manuscript(), colours=colours)
    context, line = LayoutContext(written), ColourLine(tuple(one.letter for one in colours))
    (box,) = colour_line(line, context, LOOK.paper.text_width_mm)
    swatch_mm = box.args["swatch_mm"]
    shown = [entry for row in box.args["rows"] for entry in row]
    assert "".join(letter for _, letter, _ in shown) == "ABCDEF"[: len(letters)]
    for row in box.args["rows"]:
        ends = [x + swatch_mm + line.width_mm for x, _, line in row]
        assert ends[-1] <= LOOK.paper.text_width_mm
        assert all(end < x for end, (x, _, _) in zip(ends, row[1:], strict=False))
