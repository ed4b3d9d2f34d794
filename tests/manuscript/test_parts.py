"""Parts in a book: every step told once and in order, where it goes the same everywhere."""

from __future__ import annotations

import dataclasses
import re
from functools import cache
from itertools import pairwise

import pytest

from publisher.layout.plain_text import lay_out_text
from publisher.manuscript.blocks import Chart, Contents, Cover, Manuscript, Picture, Section, Strip
from publisher.manuscript.markup import plain
from publisher.model.parts import AssemblyStep, Gap, PartCord, Repeat, Step, Tie, Wrap
from tests.support.parts import LEAF_CORDS, part, pattern_of
from tests.support.shop import book, demo, demo_plan, manuscript

KEY_CORD = "lock-keepers-key-cord"
FOUR = (PartCord("G", "folded", None, "larks-head"), PartCord("O", "folded", None, "larks-head"))
EDITIONS = ("booklet", "ink-saver", "large-print", "left-handed", "handout", "plain-text")


def section(written: Manuscript, name: str) -> Section:
    (found,) = (one for one in written.sections if one.name == name)
    return found


@cache
def demo_book(slug: str, edition: str = "booklet") -> Manuscript:
    return manuscript(demo(slug), edition)


def told(written: Manuscript) -> list[str]:
    """The words of the steps of the first part, figure by figure."""
    body = section(written, "parts").body
    pictures = [picture for block in body if isinstance(block, Strip) for picture in block.pictures]
    return [
        plain(text).replace("\u2002", " ") for one in pictures for text in (one.words, *one.more)
    ]


def steps(*worked: Step) -> list[str]:
    return told(manuscript(pattern_of(part(FOUR, worked, make=1))))


@pytest.mark.parametrize("slug", [KEY_CORD, "kingfisher-over-reeds"])
@pytest.mark.parametrize("edition", EDITIONS)
def test_every_step_is_told_once_and_in_order(slug: str, edition: str) -> None:
    numbers = [
        int(words.split()[0]) for words in told(demo_book(slug, edition)) if words[0].isdigit()
    ]
    plan = demo_plan(slug, "left" if edition == "left-handed" else "right").parts[0]
    assert numbers == [step.number for step in plan.told]


def test_a_cord_folded_off_its_middle_says_which_side_is_the_longer() -> None:
    """The outer end of each cord knots; the left one of the first, the right one of the second."""
    sennit = (Tie(knot="square-knot", on=(1, 2, 3, 4), times=8),)
    text = lay_out_text(manuscript(pattern_of(part(FOUR, sennit, make=1)), "plain-text"))
    found = re.findall(
        r"not in the middle: ([\d.]+) cm \([^)]*\) left, ([\d.]+) cm", " ".join(text.split())
    )
    (left, right), (second_left, second_right) = [tuple(map(float, pair)) for pair in found]
    assert left > right + 20
    assert (second_left, second_right) == (right, left)


def test_the_time_is_that_of_all_that_are_made() -> None:
    """21 knots of 30 seconds, twice: 21 minutes, told up to the next five."""
    two = pattern_of(part(make=2, seconds=30.0))
    assert "about 25 minutes for all 2" in lay_out_text(manuscript(two, "plain-text"))


def test_a_square_knot_says_which_cords_go_round_which() -> None:
    (words,) = steps(Tie(knot="square-knot", on=(1, 2, 3, 4)))
    assert words.startswith("1 Tie a square knot (page ")
    assert words.endswith(") with cords 1 to 4. 1 and 4 knot round 2 and 3.")


def test_a_knot_of_the_other_hand_says_so() -> None:
    (words,) = steps(Tie(knot="half-knot", on=(1, 2, 3, 4), facing="right", times=3))
    assert "3 times in all, one below the other" in words
    assert words.endswith("Begin from the right: the drawing on that page, in a mirror.")


LAST = "Work it as shown, in a mirror."


@pytest.mark.parametrize("edition", ["booklet", "left-handed", "plain-text"])
def test_hitches_that_go_against_the_drawing_say_so(edition: str) -> None:
    """A leaf has rows down both its sides: those of one are as drawn."""
    rows = [words for words in told(demo_book("kingfisher-over-reeds", edition)) if "Lead" in words]
    sides = {"left": "right", "right": "left"}
    against = "right" if edition == "left-handed" else "left"
    assert {side for side in sides if any(f"to the {side}:" in words for words in rows)} == {*sides}
    for words in rows:
        assert (LAST in words) == (f"to the {against}:" in words)


@pytest.mark.parametrize("role", ["leader", "worker"])
def test_a_knot_that_the_glossary_draws_both_ways_needs_no_mirror(role: str) -> None:
    """The chart's own, which is worked to and fro; not where all rows run one way."""
    name = "vertical-double-half-hitch"
    tie = Tie(knot=name, on=(3, 2, 1), **{role: 4})
    pattern = demo("kingfisher-over-reeds")
    for order, needed in (("zigzag", False), ("one-way", True)):
        chart = dataclasses.replace(pattern.charts[0], order=order)
        pieces = (chart, part(FOUR, (tie,), make=1))
        both = dataclasses.replace(pattern, pieces=pieces, assembly=())
        assert (LAST in " ".join(told(manuscript(both)))) == needed


def test_in_the_left_handed_edition_the_knots_are_those_of_its_glossary() -> None:
    words = " ".join(told(demo_book("kingfisher-over-reeds", "left-handed")))
    assert "Begin from the" not in words


def test_cords_to_cut_are_told_with_the_places_where_their_ends_hang() -> None:
    cords = (
        PartCord("G", "across"),
        PartCord("O", "folded", 1, "larks-head"),
        PartCord("M", "single"),
        PartCord("O", "folded", 1, "larks-head"),
    )
    worked = (Tie(knot="overhand", on=(1, 2, 3, 4, 5, 6, 7)), Wrap(on=(6, 7), turns=3, colour="G"))
    text = lay_out_text(manuscript(pattern_of(part(cords, worked, make=1)), "plain-text"))
    cut = " ".join(text.split("The cords\n", 1)[1].split("Step by step", 1)[0].split())
    ends = re.findall(r"of (\w) [^:,]*(?:, (ends? [^:]*))?:", cut)
    assert ends == [("G", "ends 1 and 6"), ("O", "ends 2 to 5"), ("M", "end 7"), ("G", "")]


def test_a_repeat_has_one_reading() -> None:
    words = steps(
        Repeat(times=3, steps=(Gap(gap_mm=10), Tie(knot="overhand", on=(1, 2, 3, 4)))),
        Repeat(times=4, steps=(Tie(knot="overhand", on=(2, 3)),)),
    )
    assert "Work steps 1 and 2, 3 times in all." in words
    assert "Work step 3, 4 times in all." in words


def test_every_knot_that_a_step_names_is_in_the_glossary() -> None:
    written = demo_book("kingfisher-over-reeds")
    targets = {target for one in written.sections for _, target in one.bookmarks}
    for knot in demo_plan("kingfisher-over-reeds").parts[0].knots:
        assert f"knot-{knot}" in targets


def test_a_wrapping_cord_is_listed_where_it_is_used() -> None:
    pattern = pattern_of(part(FOUR, (Wrap(on=(1, 2, 3, 4), turns=7, colour="M"),), make=1))
    text = lay_out_text(manuscript(pattern, "plain-text"))
    assert re.search(r"1 × [\d.]+ cm \([^)]*\) of M dry straw: to wrap with in step 1", text)
    assert "of 7 turns" in " ".join(text.split())


def test_a_cord_that_is_not_folded_in_its_middle_says_where() -> None:
    sennit = Tie(knot="square-knot", on=(1, 2, 3, 4), times=8)
    text = lay_out_text(manuscript(pattern_of(part(FOUR, (sennit,), make=1)), "plain-text"))
    assert text.count("not in the middle:") == 2


def test_a_writers_note_stands_after_the_step() -> None:
    (words,) = steps(Tie(knot="overhand", on=(1,), note="Pull {hard}."))
    assert words.endswith("with cord 1. Pull {hard}.")


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_pattern_without_a_chart_is_a_whole_book(edition: str) -> None:
    written = demo_book(KEY_CORD, edition)
    names = [one.name for one in written.sections]
    assert "parts" in names and not {"chart", "rows", "assembly"} & {*names}
    for one in written.sections:
        for block in one.body:
            if isinstance(block, Contents):
                targets = {target for _, target in block.entries}
                joined = {target for each in written.sections for _, target in each.bookmarks}
                assert targets <= {*names} | joined
    if edition == "booklet":
        (cover,) = section(written, "cover").body
        assert isinstance(cover, Cover) and cover.part is not None and cover.plan is None


def test_it_is_a_booklet_of_a_few_pages() -> None:
    assert 8 <= len(book(demo(KEY_CORD)).pages) <= 12


def test_places_have_one_number_on_chart_cover_table_and_plan() -> None:
    pattern = demo("kingfisher-over-reeds")
    written = demo_book(pattern.slug)
    plan = demo_plan(pattern.slug)
    marks = [(1, 28, 40), (2, 40, 42), (3, 36, 6), (4, 46, 6), (5, 27, 9), (6, 40, 38)]
    places = [step.placement for step in plan.assembly if step.placement]
    assert [(place.mark, place.row, place.cord) for place in places] == marks
    (chart,) = section(written, "chart").body
    assert isinstance(chart, Chart) and chart.places == tuple(places)
    (cover,) = section(written, "cover").body
    assert isinstance(cover, Cover) and [one.place for one in cover.placed] == places
    text = " ".join(lay_out_text(demo_book(pattern.slug, "plain-text")).split())
    for mark, row, cord in marks:
        assert re.search(rf"Mark {mark}: [a-z ]+, row {row}, cord {cord}", text)


def test_tails_come_out_on_both_sides_of_their_cord() -> None:
    between = [
        step.placement.between
        for step in demo_plan("kingfisher-over-reeds").assembly
        if step.placement
    ]
    assert between[0] == ((39, 40), (40, 41))
    text = " ".join(lay_out_text(demo_book("kingfisher-over-reeds", "plain-text")).split())
    assert "tails between cords 39 and 40; 40 and 41" in text
    assert "out opposite each other" in text


def discs_of(svg: str) -> list[tuple[float, float]]:
    """From where to where each disc with a cord's number reaches, from the left."""
    paths = re.findall(r'<path d="(M[^"]*Z)"[^>]* stroke-width="0.25"', svg)
    xs = [[float(x) for x in re.findall(r"(-?[\d.]+) -?[\d.]+", path)] for path in paths]
    return sorted((min(one), max(one)) for one in xs)


@pytest.mark.parametrize("edition", ["booklet", "ink-saver", "handout", "large-print"])
@pytest.mark.parametrize("folded", [4, 5])
def test_numbers_of_cords_stand_beside_each_other(edition: str, folded: int) -> None:
    """Those of a leaf's ten ends, and of twelve: in large print, too, which gives them a whole
    line where two figures in it had no room."""
    cords = (LEAF_CORDS[0], *(LEAF_CORDS[1],) * folded)
    written = manuscript(pattern_of(part(cords)), edition)
    body = section(written, "parts").body
    figures = [one.figure for block in body if isinstance(block, Strip) for one in block.pictures]
    for figure in figures:
        discs = discs_of(figure.svg)
        assert len(discs) == 2 + 2 * folded
        assert discs[0][0] >= 0 and discs[-1][1] <= figure.width_mm
        assert all(one[1] < other[0] for one, other in pairwise(discs))


def test_gluing_in_stages_is_told_in_its_order() -> None:
    def glue(count: int, note: str) -> AssemblyStep:
        return AssemblyStep("glue", "reed-leaf", count, None, 0.0, "tails", note)

    stages = (glue(3, "In a ring."), glue(1, "The centre."), glue(1, "Between the others."))
    pattern = dataclasses.replace(pattern_of(part(LEAF_CORDS)), assembly=stages)
    text = lay_out_text(manuscript(pattern, "plain-text"))
    assert " 1. Glue on 3 × reed leaf. In a ring." in text
    assert " 2. Glue on 1 × reed leaf. The centre." in text
    assert " 3. Glue on 1 × reed leaf. Between the others." in text


@pytest.mark.parametrize(
    ("fibre", "says"),
    [
        ("cotton", "without touching"),
        ("wool", "felts"),
        ("jute", "keep it dry"),
        ("synthetic", "melt"),
    ],
)
def test_finishing_goes_by_the_fibre(fibre: str, says: str) -> None:
    base = pattern_of(part())
    colours = tuple(
        dataclasses.replace(c, yarn=dataclasses.replace(c.yarn, fibre=fibre)) for c in base.colours
    )
    text = lay_out_text(manuscript(dataclasses.replace(base, colours=colours), "plain-text"))
    assert says in text and "goes before this" in text


def test_the_fringe_template_is_to_scale_and_has_every_length() -> None:
    body = section(demo_book("kingfisher-over-reeds"), "finishing").body
    (template,) = (block for block in body if isinstance(block, Picture))
    plan = demo_plan("kingfisher-over-reeds").charts[0]
    assert template.figure.width_mm == pytest.approx(plan.width_mm / 4 + 1)
    numbers = re.findall(r">([\d.]+)</text>", template.figure.svg)
    assert numbers.count("20") >= 2 and numbers.count("9") >= 2
    assert len(numbers) >= plan.columns


def test_as_many_rings_are_listed_as_there_are_parts_to_begin_on_one() -> None:
    one, two = (part(FOUR, (Gap(gap_mm=30),), make=make) for make in (2, 3))
    pattern = pattern_of(one, dataclasses.replace(two, id="other-leaf"))
    text = lay_out_text(manuscript(pattern, "plain-text"))
    assert re.search(r"Ring, 3 mm \(\S+ in\) thick: 5$", text.replace("\u00a0", " "), re.MULTILINE)
