"""Large print is large in its pictures too, and scatters them over no more pages than it must."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from publisher.fonts import text_width_mm
from publisher.fonts.shaping import MM_PER_PT
from publisher.layout.boxes import Box
from publisher.layout.context import LayoutContext
from publisher.layout.sheets import Sheet, lay_sections
from publisher.manuscript.blocks import Manuscript
from publisher.model.figure import Figure
from tests.support.charts import texts
from tests.support.shop import SLUGS, demo, manuscript, small

PAPERS = ["a4", "letter"]
FIGURE_MM = {"booklet": 39.0, "large-print": 60.0}


@cache
def sheets(
    slug: str, paper: str, edition: str = "large-print"
) -> tuple[tuple[Sheet, ...], LayoutContext]:
    book = manuscript(demo(slug), edition, paper)
    context = LayoutContext(book)
    return tuple(lay_sections(book.sections, context)), context


def figures(boxes: Iterator[Box]) -> Iterator[Figure]:
    for box in boxes:
        if box.macro == "pictures.figure":
            yield box.args["figure"]
        yield from figures(child.box for child in box.children)


def stages(sheet: Sheet, knot: str) -> list[Figure]:
    """The stages of a knot on a page."""
    found = figures(item.box for item in sheet.placed)
    return [one for one in found if one.alt.lower().startswith(knot)]


def pages_of(knot: str, slug: str, paper: str) -> list[list[Figure]]:
    found = [stages(sheet, knot) for sheet in sheets(slug, paper)[0]]
    return [page for page in found if page]


@pytest.mark.parametrize("paper", PAPERS)
def test_three_stages_of_a_long_knot_stand_on_a_page(paper: str) -> None:
    """The hitch has four to the right and four to the left, and words over both."""
    pages = pages_of("vertical double half hitch", "kingfisher-over-reeds", paper)
    assert sum(map(len, pages)) == 8
    assert max(map(len, pages)) == 3 and len(pages) == 4
    for figure in (one for page in pages for one in page):
        assert 0.72 * FIGURE_MM["large-print"] <= figure.width_mm < FIGURE_MM["large-print"]


@pytest.mark.parametrize("paper", PAPERS)
def test_a_knot_of_three_stages_has_them_in_a_line(paper: str) -> None:
    for knot in ("lark", "overhand"):
        (page,) = pages_of(knot, "tide-lines", paper)
        assert len(page) == 3


def test_figures_of_a_booklet_keep_their_size() -> None:
    found, _ = sheets("kingfisher-over-reeds", "a4", "booklet")
    widths = {one.width_mm for sheet in found for one in stages(sheet, "vertical double")}
    assert widths == {FIGURE_MM["booklet"]}


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("slug", SLUGS)
def test_the_cover_shows_the_piece_large(slug: str, paper: str) -> None:
    """More than half as wide as the text, or as high as there is room."""
    (cover, *_), context = sheets(slug, paper)
    (figure,) = figures(item.box for item in cover.placed)
    look = context.look
    facts_mm = look.frame.cover_facts_mm + look.frame.column_gap_mm
    assert figure.width_mm >= 0.95 * (look.paper.text_width_mm - facts_mm)
    last = max(item.y_mm + item.box.height_mm for item in cover.placed)
    assert last <= look.paper.height_mm


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("slug", SLUGS)
def test_nothing_on_a_cover_lies_over_anything_else(slug: str, paper: str) -> None:
    (cover, *_), context = sheets(slug, paper)
    facts_mm = context.look.frame.cover_facts_mm
    boxes = []
    for item in cover.placed:
        figure = item.box.args.get("figure")
        wide = figure.width_mm if figure else facts_mm
        if item.box.macro in ("pictures.figure", "cover.fact"):
            y = item.y_mm
            boxes.append((item.x_mm, y, item.x_mm + wide, y + item.box.height_mm))
    for at, one in enumerate(boxes):
        for other in boxes[at + 1 :]:
            across = min(one[2], other[2]) - max(one[0], other[0])
            down = min(one[3], other[3]) - max(one[1], other[1])
            assert across <= 1e-6 or down <= 1e-6


@cache
def tiny(edition: str, cells: tuple[str, ...]) -> Manuscript:
    return manuscript(small(cells), edition)


FACTS = st.lists(st.lists(st.integers(1, 12), min_size=1, max_size=2), min_size=1, max_size=6)
"""The words that each line of each fact has."""
BROAD = ("CS" * 8,)


@settings(max_examples=60)
@given(st.just("large-print"), st.sampled_from([BROAD, ("CS",) * 16]), st.integers(1, 12), FACTS)
@example("booklet", BROAD, 7, [[1], [1], [1], [1, 1, 16, 28], [22, 28], [1]])
def test_every_fact_of_a_cover_is_there_once_in_its_order_and_on_the_paper(
    edition: str, cells: tuple[str, ...], title: int, facts: list[list[int]]
) -> None:
    """On the cover, or where it has no room for all on the page after it."""
    book = tiny(edition, cells)
    cover = replace(
        book.sections[0].body[0],
        title="Kingfisher " * title,
        facts=tuple(
            (f"Fact {at}", tuple("words " * count for count in counts))
            for at, counts in enumerate(facts)
        ),
    )
    section = replace(book.sections[0], body=(cover,))
    pages = list(lay_sections((section,), LayoutContext(book)))
    placed = [item for page in pages for item in page.placed if item.box.macro == "cover.fact"]
    assert [item.box.args["term"].text for item in placed] == [term for term, _ in cover.facts]
    for item in placed:
        assert item.y_mm + item.box.height_mm <= book.look.paper.height_mm


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("slug", SLUGS)
def test_no_number_on_a_map_of_the_back_covers_another(slug: str, paper: str) -> None:
    found, context = sheets(slug, paper)
    style = context.look.type["map-number"]
    size = style.size_pt * MM_PER_PT
    maps = [
        figure
        for sheet in found
        if sheet.section == "finishing"
        for figure in figures(item.box for item in sheet.placed)
        if figure.alt.startswith("The back")
    ]
    assert maps
    for figure in maps:
        boxes = []
        for said in texts(figure):
            wide = text_width_mm(said.text, style.face, style.size_pt)
            boxes.append((said.x, said.y - 0.6 * size, said.x + wide, said.y, said.text))
        for at, one in enumerate(boxes):
            for other in boxes[at + 1 :]:
                across = min(one[2], other[2]) - max(one[0], other[0])
                down = min(one[3], other[3]) - max(one[1], other[1])
                assert across <= 0.05 or down <= 0.05, (one[4], other[4])
