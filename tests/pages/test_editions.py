"""What each edition promises: one sign a colour in all of them, a class on few sheets, the left
hand's laws, both papers and both ways to measure."""

from __future__ import annotations

import dataclasses
import io
import re
from itertools import pairwise

import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageChops, ImageOps, ImageStat

from publisher.drawing.base.symbols import assign_symbols
from publisher.drawing.knot.stages import draw_knot_stages
from publisher.knots import load_knots
from publisher.knots.turn import mirror_knot
from publisher.manuscript.blocks import Manuscript, RowEntry
from publisher.manuscript.edition import edition_form, read_edition
from publisher.model.pattern import Pattern
from publisher.plan import make_plan
from publisher.press import print_book
from publisher.source.mirror import for_left_hand
from tests.support.printed import letters, opened
from tests.support.shop import book, demo, demo_pdf, demo_plan, installed, manuscript, small

PAGED = tuple(
    name for name in installed().names("editions") if edition_form(installed(), name) == "pages"
)
PAPERS_PT = {"a4": (595.276, 841.890), "letter": (612.0, 792.0)}


def text_of(pdf: bytes) -> list[str]:
    with opened(pdf) as document:
        return [page.get_textpage().get_text_range().replace("\u00a0", " ") for page in document]


@pytest.mark.parametrize("edition", PAGED)
@pytest.mark.parametrize("paper", PAPERS_PT)
@pytest.mark.parametrize("units", ["metric-first", "inch-first"])
def test_every_edition_comes_on_both_papers_in_both_measures(
    edition: str, paper: str, units: str
) -> None:
    pattern = dataclasses.replace(small(("CDDS", "SDDC", "CCCS")), units=units)
    pdf = print_book(book(pattern, edition, paper))
    with pikepdf.open(io.BytesIO(pdf)) as opened_pdf:
        assert opened_pdf.check_pdf_syntax() == []
        for page in opened_pdf.pages:
            assert tuple(map(float, page.mediabox[2:])) == pytest.approx(PAPERS_PT[paper], abs=0.01)
    words = " ".join(" ".join(text_of(pdf)).split())
    length = re.search(r"Dowel, [\d½¼¾⅛⅜⅝⅞ ]+ (\w+) \(", words)
    assert length and length[1] == ("mm" if units == "metric-first" else "in")
    in_all = re.search(r"In all\s+(m|yd)|In all\s+[\d.,]+ (m|yd)", words)
    assert in_all and (in_all[1] or in_all[2]) == ("m" if units == "metric-first" else "yd")


@pytest.mark.parametrize("slug", ["tide-lines", "lantern-window"])
def test_a_colour_has_the_same_sign_in_every_edition(slug: str) -> None:
    keys = {edition: printed_signs(slug, edition) for edition in PAGED}
    wanted = {colour.letter for colour in demo(slug).colours}
    for edition, key in keys.items():
        assert set(key) == wanted, edition
        assert all(len(signs) == 1 for signs in key.values()), (edition, key)
        assert key == keys["booklet"], edition


def printed_signs(slug: str, edition: str) -> dict[str, set[str]]:
    """Letter → the signs that stand in its cells, on all pages of the chart."""
    cells = demo(slug).charts[0].cells
    signs = {symbol.character for symbol in assign_symbols(demo(slug).colours).values()}
    found: dict[str, set[str]] = {}
    with opened(demo_pdf(slug, edition)) as document:
        for page in document:
            title = page.get_textpage().get_text_range().split("\r\n")[1]
            numbers = re.match(r"Chart \d+: rows (\d+) to \d+, cords (\d+) to \d+", title)
            if not (numbers or title == "The chart"):
                continue
            first_row, first_cord = map(int, numbers.groups()) if numbers else (1, 1)
            shown = [one for one in letters(page) if one.text in signs and not one.is_text]
            across = sorted({round(one.middle[0]) for one in shown})
            down = sorted({round(one.middle[1]) for one in shown}, reverse=True)
            for one in shown:
                row = first_row - 1 + rank(round(one.middle[1]), down)
                cord = first_cord - 1 + rank(round(one.middle[0]), across)
                found.setdefault(cells[row][cord], set()).add(one.text)
    return found


def rank(value: int, values: list[int]) -> int:
    """Which of the steps a value is on; steps are several points apart."""
    steps = 0
    for before, after in pairwise(values):
        if value == before:
            break
        steps += abs(after - before) > 4
    return steps


# A class


def test_a_class_needs_few_sheets() -> None:
    """Kit, chart, rows, knots, and a page for notes: three sheets, printed on both sides."""
    for paper in PAPERS_PT:
        texts = text_of(demo_pdf("tide-lines", "handout", paper))
        assert len(texts) <= 6
        assert sum("The knots" in text.split("\r\n")[:2] for text in texts) == 1
        assert len(texts) < len(text_of(demo_pdf("tide-lines", "booklet", paper))) / 2


def test_a_handout_has_all_that_a_class_works_from() -> None:
    texts = text_of(demo_pdf("kingfisher-over-reeds", "handout"))
    whole = "\n".join(texts)
    assert "One student's kit" in texts[0] and "12 students" in whole
    for knot in demo_plan("kingfisher-over-reeds").knot_names:
        title = load_knots()[knot].title.capitalize()
        assert title in " ".join(whole.split()), knot
    chart = next(page for page, text in enumerate(texts) if "Chart 1 of 4" in text)
    cautions = [page for page, text in enumerate(texts) if "What can hurt" in text]
    assert len(cautions) == 1 and cautions[0] < chart, "before the work, and once"
    assert "Notes" in texts[-1]
    assert "Terms of use" not in whole


def test_a_handouts_rows_are_those_of_the_booklet() -> None:
    full, brief = (rows_of(manuscript(demo("heron-step"), e)) for e in ("booklet", "handout"))
    assert [(row.row, row.start, row.runs) for row in full] == [
        (row.row, row.start, row.runs) for row in brief
    ]
    for one, other in zip(full, brief, strict=True):
        assert [note.cord for note in one.notes] == [note.cord for note in other.notes]
        for said, short in zip(one.notes, other.notes, strict=True):
            assert numbers_and_yarns(said.text) == numbers_and_yarns(short.text)


def numbers_and_yarns(text: tuple[object, ...]) -> list[str]:
    """The yarns and cords that a note names; without what is left at the back, told once."""
    words = "".join(span.text for span in text)  # type: ignore[attr-defined]
    return re.findall(r"\b[A-Z]?\d+\b(?!\s?cm)", words)


def rows_of(book_: Manuscript) -> list[RowEntry]:
    return [b for section in book_.sections for b in section.body if isinstance(b, RowEntry)]


# The left hand


CELLS = st.integers(1, 9).flatmap(
    lambda columns: st.lists(
        st.text("CDS", min_size=columns, max_size=columns), min_size=1, max_size=8
    )
)


@settings(max_examples=40, deadline=None)
@given(CELLS, st.sampled_from(["left", "right"]), st.sampled_from(["zigzag", "one-way"]))
def test_the_other_hand_twice_is_the_first_again(cells: list[str], first: str, order: str) -> None:
    pattern = worked(small(tuple(cells)), first, order)
    left = for_left_hand(pattern)
    assert for_left_hand(left) == pattern
    assert left.pieces[0].cells == pattern.pieces[0].cells, "the picture stays"
    plan, other = make_plan(pattern).charts[0], make_plan(left).charts[0]
    for row, mirrored in zip(plan.row_list, other.row_list, strict=True):
        assert {row.start, mirrored.start} == {"left", "right"}
        assert [(run.colour, run.knots) for run in mirrored.runs] == [
            (run.colour, run.knots) for run in row.runs
        ][::-1]
    assert other.knots == plan.knots


def worked(pattern: Pattern, first: str, order: str) -> Pattern:
    piece = dataclasses.replace(pattern.pieces[0], first_row_from=first, order=order)
    return dataclasses.replace(pattern, pieces=(piece,))


def test_a_mirrored_picture_is_planned_as_the_mirrored_hand() -> None:
    """Working a picture from the right is working its mirror image from the left."""
    pattern = demo("lantern-window")
    piece = pattern.pieces[0]
    flipped = dataclasses.replace(piece, cells=tuple(row[::-1] for row in piece.cells))
    mirror = make_plan(dataclasses.replace(pattern, pieces=(flipped,))).charts[0]
    left = make_plan(for_left_hand(pattern)).charts[0]
    columns = left.columns

    def turned(cord: int) -> int:
        return columns + 1 - cord

    for one, other in zip(left.yarns, mirror.yarns, strict=True):
        assert one.knots == other.knots
        assert one.length_mm == pytest.approx(other.length_mm)
        assert [(s.row, turned(s.first_cord)) for s in one.stretches] == [
            (s.row, s.first_cord) for s in other.stretches
        ]


def test_the_left_handed_booklet_starts_at_the_right_and_shows_the_same_picture() -> None:
    right, left = text_of(demo_pdf("tide-lines")), text_of(demo_pdf("tide-lines", "left-handed"))
    assert any("\n1 → 24 C" in text for text in right)
    assert any("\n1 ← 24 C" in text for text in left)
    assert any("Row 1 runs from the right" in " ".join(text.split()) for text in left)
    one, other = (cover(edition) for edition in ("booklet", "left-handed"))
    turned = ImageOps.mirror(other)
    assert unlike(one, other) < 1.5 < unlike(one, turned), "the cover's picture is not turned"


def cover(edition: str) -> Image.Image:
    with opened(demo_pdf("tide-lines", edition)) as document:
        page = document[0].render(scale=1).to_pil().convert("RGB")
    return page.resize((page.width // 12, page.height // 12), Image.Resampling.BOX)


def unlike(one: Image.Image, other: Image.Image) -> float:
    """Mean difference of all channels."""
    return sum(ImageStat.Stat(ImageChops.difference(one, other)).mean) / 3


def test_knots_are_drawn_in_a_mirror_for_the_left_hand() -> None:
    look = read_edition(installed(), "left-handed", "a4").look
    knots = load_knots()
    for name in ("vertical-double-half-hitch", "square-knot", "overhand"):
        right = draw_knot_stages(knots[name], look, 39, 50)
        left = draw_knot_stages(knots[name], look, 39, 50, hand="left")
        again = draw_knot_stages(mirror_knot(knots[name]), look, 39, 50, hand="left")
        assert [figure.svg for figure in left] != [figure.svg for figure in right]
        assert [figure.svg for figure in again] == [figure.svg for figure in right]
