"""A pattern of several charts: whatever belongs to one of them says to which."""

from __future__ import annotations

from dataclasses import replace

import pypdfium2
import pytest

from publisher.layout import lay_out_bench, lay_out_text
from publisher.layout.context import LayoutContext
from publisher.layout.sheets import lay_sections
from publisher.manuscript import plan_for_people
from publisher.manuscript.blocks import Cover
from publisher.model.pattern import Pattern
from publisher.plan import make_plan
from publisher.press import print_book
from tests.support.grids import pattern_of
from tests.support.shop import book, installed, manuscript


@pytest.fixture(scope="module")
def pattern() -> Pattern:
    """A panel in zigzag from the left, and a narrower wing with every row from the right."""
    one = pattern_of("NNRRRRRRR", "RRNNNNRRN", "RRNNNNRRN")
    (panel,) = one.pieces
    cells = ("NNRRR", "RRNNN")
    wing = replace(panel, id="left-wing", cells=cells, first_row_from="right", order="one-way")
    return replace(one, pieces=(panel, wing), terms="personal-use")


def test_the_head_of_each_page_names_its_piece(pattern: Pattern) -> None:
    document = pypdfium2.PdfDocument(print_book(book(pattern)))
    pages = [page.get_textpage().get_text_range().split("\r\n") for page in document]
    for head, title in (
        ("Chart", "The chart"),
        ("The rows in words", "Rows 1 to {rows}"),
        ("The back and finishing", "The back: which ends to tie"),
    ):
        for name, rows in (("Panel", 3), ("Left wing", 2)):
            (page,) = (page for page in pages if page[0].endswith(f"{head} · {name}"))
            assert f"{title.format(rows=rows)} · {name}" in page


def test_words_alone_name_the_piece_too(pattern: Pattern) -> None:
    text = lay_out_text(manuscript(pattern, "plain-text"))
    bench = lay_out_bench(manuscript(pattern, "at-the-bench"), installed())
    plan = plan_for_people(make_plan(pattern), pattern, installed())
    for name, piece, rows in (("Panel", "panel", 3), ("Left wing", "left-wing", 2)):
        assert f"\nRows 1 to {rows} · {name}\n" in text
        assert f"\nThe back: which ends to tie · {name}\n" in text
        assert f"<h2>The rows in words · {name}</h2>" in bench
        assert f"\nThe rows in words · {piece}\n" in plan


def test_how_to_read_them_says_only_what_holds_for_all(pattern: Pattern) -> None:
    """Each piece's own way stands with what is done before its row 1."""
    text = " ".join(lay_out_text(manuscript(pattern, "plain-text")).split())
    how = text[text.index("How to read it") : text.index("Before row 1")]
    assert "Zigzag." not in how and "One way." not in how
    assert "Cords are numbered from the left, from 1 on each piece" in how
    assert "Row 1 goes to the right, and row 2 comes back." in text
    assert "Row 1 goes to the left, and so does every row." in text
    panel = replace(pattern, pieces=pattern.pieces[:1])
    alone = " ".join(lay_out_text(manuscript(panel, "plain-text")).split())
    assert "Zigzag. Row 1 runs from the left, row 2 comes back from the right" in alone
    assert "Cords are numbered from the left, 1 to 9," in alone


@pytest.mark.parametrize("edition", ["booklet", "large-print"])
@pytest.mark.parametrize(("count", "named"), [(2, 2), (5, 5), (6, 4), (30, 4)])
def test_a_cover_has_the_sizes_of_a_few_pieces_and_room_for_all_that_it_tells(
    pattern: Pattern, edition: str, count: int, named: int
) -> None:
    """The sizes of all stand in the list of what is needed."""
    (panel, _) = pattern.pieces
    panels = tuple(replace(panel, id=f"the-small-panel-{n}", make=2) for n in range(count))
    written = manuscript(replace(pattern, pieces=panels), edition)
    (cover,) = written.sections[0].body
    assert isinstance(cover, Cover)
    sizes = next(values for _, values in cover.facts if any("small panel" in one for one in values))
    assert sum("small panel" in one for one in sizes) == named
    assert (f"and {count - named} more pieces" in sizes) == (count > named)
    paper = written.look.paper
    for sheet in lay_sections(written.sections[:1], LayoutContext(written)):
        for item in sheet.placed:
            assert item.y_mm + item.box.height_mm <= paper.height_mm - 10.0
