"""The lists of a book: what stands in their columns is true, and no column is there for nothing."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from itertools import pairwise

import pypdfium2
import pytest

from publisher.layout import lay_out_text
from publisher.manuscript.blocks import Cell, Manuscript, Table
from publisher.model.pattern import Pattern
from tests.support.shop import SLUGS, demo, demo_pdf, demo_plan, manuscript

KINGFISHER = "kingfisher-over-reeds"
EVERY = (*SLUGS, "lock-keepers-key-cord")


def tables(written: Manuscript, section: str) -> list[Table]:
    (found,) = (one for one in written.sections if one.name == section)
    return [block for block in found.body if isinstance(block, Table)]


def lengths(cells: tuple[Cell, ...]) -> Counter[float]:
    """How often a row of the cutting list has each length, in cm."""
    _, count, cm, _, others, _ = cells
    found = Counter({float(cm.text): int(count.text)})
    text = others.text.replace("\u00a0", " ").removesuffix(" cm")
    for other in text.split(", ") if text else ():
        times, _, length = other.rpartition(" × ")
        found[float(length)] += int(times or 1)
    return found


@pytest.mark.parametrize("slug", EVERY)
def test_a_rows_other_lengths_are_one_each_unless_a_number_stands_before_them(slug: str) -> None:
    cutting = tables(manuscript(demo(slug)), "materials")[0]
    others = cutting.columns[4]
    assert (others.title, others.unit) == ("and other lengths", "(one each, unless told)")
    rows = [row.cells for row in cutting.rows if row.kind == "plain" and row.cells[2].text]
    listed: Counter[tuple[str, float]] = Counter()
    for cells in rows:
        for length, count in lengths(cells).items():
            listed[cells[0].text[0], length] += count
    cut: Counter[tuple[str, float]] = Counter()
    by_number = {row.cells[0].text[0] for row in cutting.rows if "by number" in _words(row.cells)}
    for line in demo_plan(slug).cutting_list:
        if line.purpose != "cords" or line.colour not in by_number:
            cut[line.colour, line.length_mm / 10] += line.count
    assert listed == cut


def _words(cells: tuple[Cell, ...]) -> str:
    return " ".join(cell.text for cell in cells)


@pytest.mark.parametrize("edition", ["booklet", "handout", "large-print"])
def test_cords_of_many_lengths_are_told_on_the_page_that_is_named(edition: str) -> None:
    document = pypdfium2.PdfDocument(demo_pdf(KINGFISHER, edition))
    texts = [page.get_textpage().get_text_range() for page in document]
    document.close()
    pages = re.findall(r"by number \(page\s(\d+)\)", "\n".join(texts))
    assert len(pages) == 2, "in the cutting list, and before row 1"
    for page in pages:
        assert "Hanging cords by number" in texts[int(page) - 1]


def test_without_pages_their_list_stands_below() -> None:
    text = " ".join(lay_out_text(manuscript(demo(KINGFISHER), "plain-text")).split())
    assert "by number, in the list below" in text
    assert text.index("by number, in the list below") < text.index("Hanging cords by number")


def without_notes(pattern: Pattern) -> Pattern:
    return replace(pattern, assembly=tuple(replace(step, note="") for step in pattern.assembly))


def test_the_table_of_places_has_no_empty_column() -> None:
    pattern = demo(KINGFISHER)
    for one, notes in ((pattern, True), (without_notes(pattern), False)):
        (places,) = tables(manuscript(one), "assembly")
        assert (places.columns[-1].title == "Where that is") == notes
        for column in range(len(places.columns)):
            assert any(row.cells[column].text for row in places.rows)
        assert all(len(row.cells) == len(places.columns) for row in places.rows)


@pytest.mark.parametrize("slug", SLUGS)
def test_colours_come_in_the_files_order_in_key_rows_and_shopping(slug: str) -> None:
    document = pypdfium2.PdfDocument(demo_pdf(slug))
    texts = [page.get_textpage().get_text_range() for page in document]
    document.close()
    names = [f"{colour.letter} {colour.name}" for colour in demo(slug).colours]
    whole = [text for text in texts if all(text.count(name) == 1 for name in names)]
    assert len(whole) > 2, "the key, under the rows, and where there is but one piece the lists"
    for text in whole:
        places = [text.index(name) for name in names]
        assert all(one < other for one, other in pairwise(places)), text
