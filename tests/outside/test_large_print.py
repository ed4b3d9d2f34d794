"""The large-print edition against the figures for large print, read from the printed pages.

UK Association for Accessible Formats, minimum standards: clear and large print: at least 16 pt,
better 18; American Council of the Blind, large print guidelines: 18 pt, leading 1.5, flush left,
no hyphenation, labels as large as the text.
"""

from __future__ import annotations

import re
from collections import Counter, defaultdict
from collections.abc import Iterator
from itertools import pairwise

import pypdfium2
import pytest

from publisher.manuscript.blocks import Manuscript
from publisher.manuscript.edition import read_edition
from publisher.model.look import Look
from tests.support.printed import MM_PER_PT, Letter, letters, opened
from tests.support.shop import demo, demo_pdf, installed, manuscript

PAPERS = ("a4", "letter")
BODY_PT, LEAST_PT, LEADING, CELL_MM = 18.0, 16.0, 1.5, 10.0
ROUNDING = 0.01


@pytest.fixture(scope="module", params=PAPERS)
def pages(request: pytest.FixtureRequest) -> list[list[Letter]]:
    with opened(demo_pdf("tide-lines", "large-print", request.param)) as document:
        return [letters(page) for page in document]


@pytest.fixture(scope="module", params=PAPERS)
def look(request: pytest.FixtureRequest) -> Look:
    return read_edition(installed(), "large-print", request.param).look


def test_every_letter_is_large(pages: list[list[Letter]]) -> None:
    for number, page in enumerate(pages, 1):
        for letter in filter(lambda one: one.is_text, page):
            assert letter.size_pt >= LEAST_PT - ROUNDING, (number, letter)


def test_what_is_read_is_18_points(pages: list[list[Letter]]) -> None:
    """Smaller are only header and foot, which repeat what stands elsewhere."""
    for number, page in enumerate(pages, 1):
        for letter in page:
            if letter.is_text and letter.size_pt < BODY_PT - ROUNDING:
                from_foot = letter.base_pt * MM_PER_PT
                assert from_foot < 26 or from_foot > 255, (number, letter)


def test_every_role_of_type_is_large(look: Look) -> None:
    """Also those that no page of this pattern shows. A size of 0 means that nothing is printed."""
    for name, style in look.type.items():
        assert style.size_pt >= LEAST_PT or style.size_pt == 0, name
    for name in ("body", "rows", "note", "table", "key", "figure-words", "figure-label", "legend"):
        assert look.type[name].size_pt >= BODY_PT, name
    for name in ("chart-row", "chart-cord", "chart-words", "map-number"):
        assert look.type[name].size_pt >= look.type["body"].size_pt, name


def test_the_leading_is_one_and_a_half(pages: list[list[Letter]]) -> None:
    """Between any two lines of the text face that begin at the same place, one below the other."""
    seen = 0
    for page in pages:
        for first, second in pairwise(_line_starts(page)):
            if abs(first.box[0] - second.box[0]) < 1.0 and second.base_pt < first.base_pt:
                step = first.base_pt - second.base_pt
                assert step >= LEADING * BODY_PT - ROUNDING, (first, second)
                seen += step < 2 * BODY_PT
    assert seen > 200


def _line_starts(page: list[Letter]) -> Iterator[Letter]:
    """The first letter of every line of 18 points, in the order of the content."""
    base = None
    for letter in page:
        if letter.is_text and "Sans" in letter.font and abs(letter.size_pt - BODY_PT) < 0.1:
            if base is None or abs(letter.base_pt - base) > 1.0:
                yield letter
            base = letter.base_pt


def test_paragraphs_lead_one_and_a_half_in_every_role(look: Look) -> None:
    for name in ("body", "rows", "note", "table", "figure-words", "lead-in", "key", "legend"):
        style = look.type[name]
        assert style.lead_mm >= LEADING * style.size_pt * MM_PER_PT - ROUNDING, name


def test_no_word_is_hyphenated(pages: list[list[Letter]]) -> None:
    """Every word that ends a line with a hyphen is written with it in the manuscript too."""
    words = set(re.findall(r"\S+", _all_words(manuscript(demo("tide-lines"), "large-print"))))
    for page in pages:
        text = "".join(letter.text for letter in page)
        assert "\u00ad" not in text
        for broken in re.findall(r"(\w+-)\s*\r?\n", text):
            assert any(word.startswith(broken) for word in words), broken


def _all_words(book: Manuscript) -> str:
    return repr(book.sections)


def test_lines_are_flush_left_in_one_column(pages: list[list[Letter]]) -> None:
    """Text begins at few places across: the margin, and the indents of lists and facts."""
    for page in pages[1:]:
        starts = Counter(
            round(line.box[0] * MM_PER_PT / 2) for line in _line_starts(page) if line.text.isalpha()
        )
        assert len(starts) <= 8, starts


def test_chart_cells_are_ten_millimetres_and_their_numbers_as_large_as_text() -> None:
    """Measured from cord number to cord number, and from row number to row number."""
    for paper in PAPERS:
        with opened(demo_pdf("tide-lines", "large-print", paper)) as document:
            charts = [page for page in document if _title(page).startswith("Chart ")]
            assert len(charts) > 4
            for page in charts:
                across, down = _cells_mm(letters(page))
                assert across >= CELL_MM - ROUNDING and down >= CELL_MM - ROUNDING


def _title(page: pypdfium2.PdfPage) -> str:
    return "".join(one.text for one in letters(page) if "Serif" in one.font)


def _cells_mm(page: list[Letter]) -> tuple[float, float]:
    """A chart's cell: the steps of the numbers above it, and of those at its left."""
    numbers = _numbers(page)
    by_line: dict[int, list[tuple[int, float]]] = defaultdict(list)
    by_side: dict[int, list[tuple[int, float]]] = defaultdict(list)
    for value, x, y in numbers:
        by_line[round(y)].append((value, x))
        by_side[round(x / 12)].append((value, y))
    cords = max(by_line.values(), key=len)
    rows = max(by_side.values(), key=len)
    return _step(cords), _step(rows)


def _step(places: list[tuple[int, float]]) -> float:
    """Millimetres from one number to the next, over the longest stretch."""
    (first, start), *_, (last, end) = sorted(places)
    return abs(end - start) / (last - first) * MM_PER_PT


def _numbers(page: list[Letter]) -> list[tuple[int, float, float]]:
    """Every whole number of 18 points with the middle of its place."""
    found: list[tuple[int, float, float]] = []
    run: list[Letter] = []
    for letter in [*page, None]:
        joins = (
            letter is not None
            and letter.text.isdigit()
            and letter.size_pt >= BODY_PT - ROUNDING
            and (not run or (letter.base_pt == run[-1].base_pt and _near(run[-1], letter)))
        )
        if not joins and run:
            middle = (run[0].box[0] + run[-1].box[2]) / 2
            found.append((int("".join(one.text for one in run)), middle, run[0].base_pt))
            run = []
        if letter is not None and letter.text.isdigit() and letter.size_pt >= BODY_PT - ROUNDING:
            run.append(letter)
    return found


def _near(one: Letter, other: Letter) -> bool:
    return 0 <= other.box[0] - one.box[2] < 3


def test_nothing_that_matters_is_within_ten_millimetres_of_the_edge(
    pages: list[list[Letter]],
) -> None:
    """Home printers lose 4 to 7 mm (printers' data sheets)."""
    for page in pages:
        for letter in page:
            assert letter.box[0] * MM_PER_PT >= 10 and letter.box[1] * MM_PER_PT >= 10 - 1.5
