"""The knots of a book: in its hand, for its rows, and no more of them than its plan asks for."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest

from publisher.knots import load_knots
from publisher.knots.defaults import defaults
from publisher.knots.turn import mirror_knot
from publisher.manuscript import write_manuscript
from publisher.manuscript.blocks import (
    BackMap,
    Beside,
    Block,
    Facts,
    Heading,
    Items,
    Manuscript,
    Paragraph,
    Strip,
)
from publisher.manuscript.edition import edition_hand
from publisher.manuscript.markup import plain, read_marks
from publisher.model.pattern import Fringe, FringeShape, Order, Pattern, Side
from publisher.plan import make_plan
from publisher.source.mirror import for_left_hand
from tests.support.shop import DATE, SLUGS, demo, demo_plan, installed, manuscript, small

KNOTS = load_knots()


def blocks_of(book: Manuscript, section: str) -> Iterator[Block]:
    for one in book.sections:
        if one.name.startswith(section):
            for block in one.body:
                yield from inside(block)


def inside(block: Block) -> Iterator[Block]:
    if isinstance(block, Beside):
        for part in block.parts:
            for one in part:
                yield from inside(one)
    else:
        yield block


def said(book: Manuscript) -> dict[str, str]:
    """Under each knot's heading, or none for that of the chart: all words, its stages' too."""
    name = ""
    found = {name: ""}
    for block in blocks_of(book, "knots"):
        if isinstance(block, Heading):
            name = block.text if block.target else name
            found.setdefault(name, "")
        elif isinstance(block, Paragraph):
            found[name] += plain(block.text) + "\n"
        elif isinstance(block, Strip):
            found[name] += "".join(plain(one.words) + "\n" for one in block.pictures)
    return found


def leads(book: Manuscript) -> dict[str, str]:
    """What stands beside each knot's heading."""
    return {
        block.text: block.lead_in
        for block in blocks_of(book, "knots")
        if isinstance(block, Heading) and block.target
    }


@cache
def with_every_knot(edition: str) -> dict[str, str]:
    """The words of a book that uses every knot and procedure there is."""
    pattern, hand = demo("tide-lines"), edition_hand(installed(), edition)
    if hand == "left":
        pattern = for_left_hand(pattern)
    names = tuple(name for name in KNOTS if name != "vertical-double-half-hitch")
    plan = replace(demo_plan("tide-lines", hand), knot_names=names)
    return said(write_manuscript(pattern, plan, KNOTS, installed(), edition, "a4", date=DATE))


def heading(name: str) -> str:
    title = KNOTS[name].title
    return title[0].upper() + title[1:]


@pytest.mark.parametrize("edition", ["booklet", "left-handed"])
@pytest.mark.parametrize("name", [name for name in KNOTS if name != "vertical-double-half-hitch"])
def test_intro_stages_and_check_are_those_of_the_books_hand(name: str, edition: str) -> None:
    knot = mirror_knot(KNOTS[name]) if edition == "left-handed" else KNOTS[name]
    words = [knot.intro, *(stage.words for stage in knot.stages), f"*Is it right?*  {knot.check}"]
    told = with_every_knot(edition)[heading(name)].splitlines()
    own = [plain(read_marks(text)) for text in words]
    assert list(dict.fromkeys(told)) == list(dict.fromkeys(own)), "handling is told twice here"


@pytest.mark.parametrize("hand", ["right", "left"])
def test_the_chart_knots_words_go_with_its_first_drawing(hand: str) -> None:
    book = manuscript(demo("tide-lines"), "left-handed" if hand == "left" else "booklet")
    words = plain(read_marks(KNOTS["vertical-double-half-hitch"].intro))
    assert words in said(book)[""]


def test_the_chart_knot_round_one_strand_speaks_of_one() -> None:
    pattern = demo("tide-lines")
    thin = replace(pattern.charts[0], cords=replace(pattern.charts[0].cords, strands=1))
    book = manuscript(replace(pattern, pieces=(thin,)))
    intro = next(block for block in blocks_of(book, "knots") if isinstance(block, Paragraph))
    assert "2" not in plain(intro.text)


# --- for which rows ---------------------------------------------------------------------------

ODD = "odd rows; even in a mirror"
EVEN = "even rows; odd in a mirror"


def worked(first: Side, order: Order, cells: tuple[str, ...] = ()) -> Pattern:
    pattern = small(cells) if cells else demo("tide-lines")
    chart = replace(pattern.charts[0], first_row_from=first, order=order)
    return replace(pattern, pieces=(chart,))


@pytest.mark.parametrize("edition", ["booklet", "left-handed"])
@pytest.mark.parametrize("first", ["left", "right"])
def test_drawings_of_handling_say_which_rows_they_are_for(first: Side, edition: str) -> None:
    found = leads(manuscript(worked(first, "zigzag"), edition))
    for title in ("Starting a new yarn", "Joining a new length", "Turning at the end of a row"):
        assert found[title] == ODD
    assert found["Picking up a yarn from the row above"] == EVEN
    assert found["Tying two ends on the back"] == ""


@pytest.mark.parametrize("first", ["left", "right"])
def test_what_is_said_of_rows_is_what_is_drawn(first: Side) -> None:
    """Row 1 starts at this side: a start in an odd row runs away from it."""
    told = said(manuscript(worked(first, "zigzag")))
    far = "right" if first == "left" else "left"
    assert f"behind the cord to the {far}" in told["Starting a new yarn"]
    assert f"Finish the row to the {far}" in told["Turning at the end of a row"]
    assert f"on cord 2, to the {first}," in told["Picking up a yarn from the row above"]


@pytest.mark.parametrize("edition", ["booklet", "left-handed"])
@pytest.mark.parametrize("first", ["left", "right"])
def test_each_way_of_the_charts_knot_is_headed_by_the_rows_that_go_that_way(
    first: Side, edition: str
) -> None:
    pattern = worked(first, "zigzag")
    headed = {
        block.arrow: block
        for block in blocks_of(manuscript(pattern, edition), "knots")
        if isinstance(block, Heading) and block.text.startswith("Worked to the ")
    }
    hand = edition_hand(installed(), edition)
    (chart,) = make_plan(for_left_hand(pattern) if hand == "left" else pattern).charts
    assert len(headed) == 2
    for row in chart.row_list:
        block, other = headed[row.start], "right" if row.start == "left" else "left"
        assert block.text == f"Worked to the {other}"
        assert block.lead_in.startswith("odd rows" if row.row % 2 else "even rows"), row.row


def test_one_way_is_every_row_and_one_row_needs_no_word() -> None:
    assert leads(manuscript(worked("right", "one-way")))["Starting a new yarn"] == "every row"
    one = worked("left", "zigzag", ("C" * 8 + "S" * 8,))
    assert leads(manuscript(one))["Starting a new yarn"] == ""


def test_charts_that_start_at_different_sides_are_told_by_the_way_of_the_row() -> None:
    one, other = (worked(first, "zigzag").charts[0] for first in ("left", "right"))
    both = replace(demo("tide-lines"), pieces=(one, replace(other, id="other")))
    found = leads(manuscript(both))["Starting a new yarn"]
    assert found == "in a row to the right; the other way in a mirror"


def test_the_knots_of_a_picture_are_those_of_one_however_many_are_made() -> None:
    pattern = small(("C" * 8 + "S" * 8,) * 3)
    many = replace(pattern, pieces=(replace(pattern.charts[0], make=4),))
    for one in (pattern, many):
        facts = [block for block in blocks_of(manuscript(one), "knots") if isinstance(block, Facts)]
        told = [value for block in facts for _, values in block.facts for value in values]
        assert "all 48 knots of the picture" in told


# --- what a plan asks for ---------------------------------------------------------------------


@pytest.mark.parametrize("slug", SLUGS)
def test_carrying_is_drawn_in_the_ways_that_the_notes_ask_for(slug: str) -> None:
    found = said(manuscript(demo(slug)))
    (chart,) = demo_plan(slug).charts
    notes = [note for row in chart.row_list for note in row.notes if note.behind is not None]
    down = {note.rows_down > 0 for note in notes}
    assert ("Carrying a yarn behind the cords" in found) == (False in down)
    assert ("Picking up a yarn from the row above" in found) == (True in down)


def test_a_yarn_that_comes_from_the_very_next_row_is_drawn() -> None:
    """Row 2 comes back, and wants C one cord further on; nothing else is carried."""
    cells = ("C" * 12 + "S" * 4, "C" * 11 + "S" * 5)
    found = said(manuscript(worked("left", "zigzag", cells)))
    assert "Picking up a yarn from the row above" in found
    assert "Carrying a yarn behind the cords" not in found


def test_in_one_way_order_nothing_comes_from_the_row_above() -> None:
    found = said(manuscript(worked("left", "one-way")))
    assert "Picking up a yarn from the row above" not in found


# --- the fringe -------------------------------------------------------------------------------

TITLES: dict[FringeShape, str] = {
    "straight": "Trimming a straight fringe",
    "point": "Trimming a pointed fringe",
    "arch": "Trimming an arched fringe",
}


def fringed(shape: FringeShape, slug: str = "tide-lines") -> Pattern:
    pattern = demo(slug)
    shortest = 150.0 if shape == "straight" else 60.0
    chart = replace(pattern.charts[0], fringe=Fringe(shape, 150.0, shortest))
    others = [piece for piece in pattern.pieces if piece is not pattern.charts[0]]
    return replace(pattern, pieces=(chart, *others))


def finishing_steps(book: Manuscript) -> list[str]:
    (section,) = (one for one in book.sections if one.name == "finishing")
    (back,) = (block for block in section.body if isinstance(block, BackMap))
    (steps,) = (block for block in back.beside if isinstance(block, Items))
    return [plain(step) for step in steps.items]


@pytest.mark.parametrize("edition", ["booklet", "plain-text"])
@pytest.mark.parametrize("shape", TITLES)
def test_a_fringe_is_drawn_in_its_own_shape_and_cut_as_the_steps_say(
    shape: FringeShape, edition: str
) -> None:
    book = manuscript(fringed(shape), edition)
    found = said(book)
    assert [title for title in TITLES.values() if title in found] == [TITLES[shape]]
    assert heading(defaults().handling[f"trim_{shape}"]) == TITLES[shape]
    (step,) = (step for step in finishing_steps(book) if "fringe" in step)
    figure = found[TITLES[shape]]
    for tool in ("ruler", "thread"):
        assert (tool in step) == (tool in figure)
    for words in ("both edges", "from mark to mark"):
        assert (words in step) == (words in figure) == (shape != "straight")
    template = any(
        isinstance(block, Heading) and block.text == "Fringe template"
        for block in blocks_of(book, "finishing")
    )
    assert template == (shape != "straight" and edition == "booklet")
    assert ("template" in step) == template


@pytest.mark.parametrize("slug", SLUGS)
@pytest.mark.parametrize("edition", ["booklet", "large-print", "left-handed", "plain-text"])
def test_the_fringe_is_cut_when_the_back_is_done_and_before_the_piece_is_hung_up(
    slug: str, edition: str
) -> None:
    book = manuscript(demo(slug), edition)
    steps = finishing_steps(book)

    def place(words: str) -> int:
        return next(k for k, step in enumerate(steps) if words in step)

    order = [
        place(words) for words in ("pair-tied knot", "dry flat", "Comb the fringe", "hanging cord")
    ]
    assert order == sorted(order)
    assert "dowel level" in steps[order[2]], "as the figure's words say"
    assert "cut last" not in " ".join([*steps, *said(book).values()])


def test_two_charts_of_two_shapes_have_both_drawn() -> None:
    one, other = fringed("point").charts[0], replace(fringed("arch").charts[0], id="other")
    found = said(manuscript(replace(demo("tide-lines"), pieces=(one, other))))
    assert [title for title in TITLES.values() if title in found] == [
        TITLES["point"],
        TITLES["arch"],
    ]


def test_a_piece_without_a_fringe_has_none_to_trim() -> None:
    pattern = demo("tide-lines")
    chart = replace(pattern.charts[0], fringe=Fringe("straight", 0.0, 0.0))
    found = said(manuscript(replace(pattern, pieces=(chart,))))
    assert not [title for title in found if "fringe" in title.lower()]
