"""Parts drawn: every step in a figure, no cord lost or broken, mirrored for the other hand."""

from __future__ import annotations

import math
import re
from functools import cache
from itertools import combinations, pairwise

import pytest
from hypothesis import given, settings

from publisher.drawing import draw_part, draw_part_steps
from publisher.drawing.part.events import Layer
from publisher.drawing.part.lay import Lay
from publisher.drawing.part.mount import lay_mount
from publisher.drawing.part.paint import cords_of
from publisher.drawing.part.picture import lay_out_part
from publisher.drawing.part.states import group_steps, new_lay
from publisher.knots import load_knots
from publisher.knots.crossings import Crossing
from publisher.model.part_plan import StepsPlan
from publisher.model.parts import (
    Cross,
    Drop,
    Facing,
    Gap,
    Glue,
    PartCord,
    StepsPiece,
    Tie,
    Trim,
    Wrap,
)
from publisher.plan import make_plan
from publisher.source.mirror import mirrored_part
from tests.support.charts import Shot, look
from tests.support.parts import COLOURS, LEAF_CORDS, part, parts, pattern_of

KNOTS = load_knots().__getitem__
LINES = ((4, 39.0), (3, 54.0), (2, 84.0), (1, 174.0))
LEAF = part()


@cache
def planned(piece: StepsPiece) -> StepsPlan:
    return make_plan(pattern_of(piece)).parts[0]


def laid(plan: StepsPlan, whole: bool = False) -> Lay:
    lay = new_lay(plan)
    layer = Layer(lay, KNOTS, whole)
    lay_mount(plan, lay, KNOTS)
    for step in plan.steps:
        layer.step(step)
    return lay


@settings(max_examples=50, deadline=None)
@given(parts())
def test_every_cord_is_laid_out_to_its_end(piece: StepsPiece) -> None:
    plan = planned(piece)
    for whole in (False, True):
        lay = laid(plan, whole)
        assert set(lay.order) <= set(lay.ways)
        for ways in lay.ways.values():
            for way in ways:
                for one, other in pairwise(way):
                    assert math.isfinite(one.x + one.y + one.z)
                    assert abs(other.xy - one.xy) > 0.01, "two points at one place draw nothing"


@settings(max_examples=8, deadline=None)
@given(parts(most=4))
def test_random_parts_are_drawn(piece: StepsPiece) -> None:
    plan, colours = planned(piece), pattern_of(piece).colours
    figures = draw_part_steps(plan, colours, KNOTS, look(), LINES, 80.0, 54.0)
    shown = [number for figure in figures for number in figure.numbers]
    assert shown == [0, *(step.number for step in plan.told)]
    for figure in figures:
        assert figure.figure.height_mm <= 80.0 + 1e-6
        assert "<path" in figure.figure.svg
        assert "nan" not in figure.figure.svg
    assert draw_part(plan, colours, KNOTS, look(), 50, 50).svg


def test_the_leaf_is_told_in_three_figures_after_its_mounting() -> None:
    groups = [tuple(step.number for step in group) for group in group_steps(planned(LEAF))]
    assert groups == [(1, 2), (3, 4), (5, 6)]


def test_steps_share_a_figure_only_where_one_set_of_numbers_holds() -> None:
    cross = Cross(front=1, back=2)
    apart = part(LEAF_CORDS, (cross, Cross(front=5, back=6)))
    again = part(LEAF_CORDS, (cross, Cross(front=2, back=3)))
    assert len(group_steps(planned(apart))) == 1
    assert len(group_steps(planned(again))) == 2, "cord 2 is another one by then"


def test_what_is_glued_shares_the_figure_before_it() -> None:
    steps = (Tie(knot="square-knot", on=(2, 3, 4, 5)), Glue(what="the tails"))
    (group,) = group_steps(planned(part(LEAF_CORDS, steps)))
    assert [step.kind for step in group] == ["tie", "glue"]


def exits(piece: StepsPiece) -> dict[str, float]:
    plan = planned(piece)
    lay = laid(plan)
    return {f"{leg.cord}{leg.side}": lay.at(leg).x for leg in lay.order}


def test_legs_hang_in_the_order_that_the_plan_has() -> None:
    for steps in (LEAF.steps[:1], LEAF.steps[:3], LEAF.steps[:4]):
        xs = list(exits(part(LEAF_CORDS, steps)).values())
        assert xs == sorted(xs)


@pytest.mark.parametrize("facing", ["left", "right"])
@pytest.mark.parametrize("times", range(1, 8))
def test_many_half_knots_leave_the_cords_where_the_plan_has_them(
    times: int, facing: Facing
) -> None:
    """Whether all of them are drawn or, as in the steps, only some."""
    cords = (PartCord("G", "folded", knot="larks-head"),) * 2
    tie = Tie(knot="half-knot", on=(1, 2, 3, 4), times=times, facing=facing)
    plan = planned(part(cords, (tie,)))
    for whole in (False, True):
        lay = laid(plan, whole)
        xs = [lay.at(leg).x for leg in lay.order]
        assert xs == sorted(xs)


def test_the_mirrored_leaf_is_the_leaf_in_a_mirror() -> None:
    one, other = exits(LEAF), exits(mirrored_part(LEAF))
    assert sorted(round(x, 3) for x in one.values()) == sorted(round(-x, 3) for x in other.values())


def test_leaders_from_both_sides_meet_and_do_not_cross() -> None:
    """After either pair of rows the five cords of the left side hang left of the middle."""
    for count in (2, 4):
        xs = list(exits(part(LEAF_CORDS, LEAF.steps[:count])).values())
        assert max(xs[:5]) < 0 < min(xs[5:])


def test_trimmed_ends_of_a_slanting_row_keep_its_slant() -> None:
    """In the finished part each is as long as told below its own last knot, not cut level."""
    plan = planned(LEAF)
    (trim,) = (step for step in plan.steps if step.kind == "trim")
    lay, before = laid(plan, whole=True), laid(planned(part(LEAF_CORDS, LEAF.steps[:-1])), True)
    ends = [lay.at(leg).y - before.at(leg).y for leg in trim.legs]
    assert ends == pytest.approx([15.0 / plan.cords[0].diameter_mm] * 8)
    slant = [lay.at(leg).y for leg in trim.legs[:3]]
    assert slant == sorted(slant) and slant[2] > slant[0] + 3


@pytest.mark.parametrize("letter", COLOURS)
def test_cords_are_drawn_in_their_own_colours(letter: str) -> None:
    cords = (PartCord(letter, "folded", None, "larks-head"),)
    pattern = pattern_of(part(cords, (Gap(gap_mm=10), Trim(trim_mm=10))))
    plan = make_plan(pattern).parts[0]
    picture = draw_part(plan, pattern.colours, KNOTS, look(), 40, 40)
    assert pattern.colour(letter).srgb.hex in picture.svg
    mono = draw_part(plan, pattern.colours, KNOTS, look("ink-saver"), 40, 40)
    assert pattern.colour(letter).srgb.hex not in mono.svg


def test_a_coil_is_drawn_in_the_colour_of_the_cord_that_winds_it() -> None:
    cords = (PartCord("G", "folded", None, "larks-head"),)
    pattern = pattern_of(part(cords, (Wrap(on=(1, 2), turns=6, colour="O"), Trim(trim_mm=20))))
    picture = draw_part(make_plan(pattern).parts[0], pattern.colours, KNOTS, look(), 40, 40)
    assert pattern.colour("O").srgb.hex in picture.svg


def test_each_figure_is_titled_with_the_steps_that_it_shows() -> None:
    """The first one shows the cords before any."""
    colours = pattern_of(LEAF).colours
    figures = draw_part_steps(planned(LEAF), colours, KNOTS, look(), LINES, 80.0, 54.0)
    for index, shown in enumerate(figures):
        (first, *_), last = shown.numbers, shown.numbers[-1]
        words = [said for _, y, said in texts_at(shown.figure.svg) if y < 8.0]
        assert words == ([] if not index else [f"{first}–{last}" if first < last else str(first)])
    assert [shown.numbers for shown in figures] == [(0,), (1, 2), (3, 4), (5, 6)]


def test_numbers_on_cords_count_them_from_the_left() -> None:
    figures = draw_part_steps(
        planned(LEAF), pattern_of(LEAF).colours, KNOTS, look(), LINES, 80.0, 54.0
    )
    for shown in figures:
        rows: dict[float, list[tuple[float, str]]] = {}
        for x, y, words in texts_at(shown.figure.svg):
            if words.isdigit() and y > 8.0:
                rows.setdefault(y, []).append((x, words))
        read = [[words for _, words in sorted(row)] for row in rows.values() if len(row) > 2]
        assert read, "where the cords come in, and where they end"
        assert all(row == [str(n + 1) for n in range(10)] for row in read)


@settings(max_examples=50)
@given(parts())
def test_a_cut_is_drawn_where_the_ends_are_that_it_makes(piece: StepsPiece) -> None:
    """Below their knots, across the lowest of them."""
    lay = laid(planned(piece))
    for cut in lay.cuts:
        ends = [lay.at(leg) for leg in lay.ended if cut.left < lay.at(leg).x < cut.right]
        assert max(end.y for end in ends) == pytest.approx(cut.y)


def test_of_two_cords_that_cross_the_one_in_front_covers_the_other() -> None:
    """In the middle of the picture, where nothing but the crossing is drawn."""
    cords = (PartCord("G", "single"), PartCord("O", "single"))

    def seen(front: int) -> dict[str, int]:
        pattern = pattern_of(part(cords, (Cross(front=front, back=3 - front),), make=1))
        figure = draw_part(make_plan(pattern).parts[0], pattern.colours, KNOTS, look(), 60.0, 60.0)
        pixels = Shot(figure).pixels
        middle = pixels[:, pixels.shape[1] // 2].astype(int)
        yarns = {one.letter: one.srgb for one in pattern.colours if one.letter in "GO"}
        return {
            letter: int((abs(middle - (c.red, c.green, c.blue)).max(axis=1) < 40).sum())
            for letter, c in yarns.items()
        }

    first, second = seen(front=1), seen(front=2)
    assert first["G"] > 1.5 * second["G"], (first, second)
    assert second["O"] > 1.5 * first["O"], (first, second)


@pytest.mark.parametrize(
    "after",
    [
        Tie(knot="diagonal-double-half-hitch", leader=1, on=(2,)),
        Tie(knot="diagonal-double-half-hitch", leader=2, on=(1,)),
    ],
)
def test_a_cord_that_was_dropped_lies_behind_what_is_tied_after_it(after: Tie) -> None:
    cords = tuple(PartCord(letter, "single") for letter in "GOG")
    plan = planned(part(cords, (Drop(on=(2,)), after)))
    for whole in (False, True):
        (group,) = cords_of(laid(plan, whole), quiet=False)
        met = [one for one in group.layers[0].crossings if is_in(one, "2:only")]
        assert met, "others come over the place where it hangs"
        assert all(one.under.strand == "2:only" for one in met)


def is_in(crossing: Crossing, cord: str) -> bool:
    return cord in (crossing.over.strand, crossing.under.strand)


def test_a_finished_part_has_the_size_that_the_plan_says() -> None:
    plan = planned(LEAF)
    picture = lay_out_part(plan, KNOTS, "behind")
    left, top, right, bottom = picture.box
    assert (right - left) * picture.diameter_mm <= plan.width_mm + 1e-6
    assert (bottom - top) * picture.diameter_mm <= plan.height_mm + 1e-6


@pytest.mark.parametrize("edition", ["booklet", "large-print"])
def test_numbers_on_cords_side_by_side_do_not_touch(edition: str) -> None:
    cords = tuple(PartCord(letter, "folded", None, "larks-head") for letter in "OMGO")
    steps = (Tie(knot="square-knot", on=(1, 2, 3, 4), times=3), Gap(gap_mm=40))
    pattern = pattern_of(part(cords, steps))
    plan = make_plan(pattern).parts[0]
    size_pt = look(edition).type["figure-label"].size_pt
    figures = draw_part_steps(plan, pattern.colours, KNOTS, look(edition), LINES, 90.0, 54.0)
    for figure in figures[1:]:
        places = texts_at(figure.figure.svg)
        numbers = [(x, y, words) for x, y, words in places if words in "12345678"]
        for (x, y, one), (u, v, other) in combinations(numbers, 2):
            if abs(y - v) < 0.1 and abs(int(one) - int(other)) == 1:
                assert abs(x - u) >= 0.94 * size_pt * 0.5 * 25.4 / 72 + 0.3


def texts_at(svg: str) -> list[tuple[float, float, str]]:
    found = re.findall(r"<text([^>]*)>([^<]*)</text>", svg)
    return [
        (float(re.search(r' x="([^"]+)"', a)[1]), float(re.search(r' y="([^"]+)"', a)[1]), words)  # type: ignore[index]
        for a, words in found
    ]
