"""Knots of the writer's own take what they take in their drawing."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest
from pytest import approx

from publisher.errors import SourceError
from publisher.model.part_plan import StepsPlan
from publisher.plan import make_plan
from publisher.source import read_pattern
from publisher.source.mirror import for_left_hand
from tests.support.own_knots import HALF, SQUARE, write_pattern

ON = "on = [1, 2, 3, 4]"


def planned(folder: Path, step: str, knot: str = SQUARE, *, left: bool = False) -> StepsPlan:
    pattern = read_pattern(write_pattern(folder, step, weir_knot=knot))
    return make_plan(for_left_hand(pattern) if left else pattern).parts[0]


def used(plan: StepsPlan) -> list[float]:
    return [leg.used_mm for cord in plan.cords for leg in cord.legs]


@pytest.mark.parametrize("times", [1, 7])
@pytest.mark.parametrize("facing", ["left", "right"])
@pytest.mark.parametrize(("ours", "own"), [("square-knot", SQUARE), ("half-knot", HALF)])
def test_ours_under_another_name_is_planned_as_ours(
    tmp_path: Path, ours: str, own: str, facing: str, times: int
) -> None:
    more = f'{ON}, facing = "{facing}", times = {times} }},'
    expected = planned(tmp_path, f'{{ tie = "{ours}", {more}', own)
    found = planned(tmp_path, f'{{ tie = "weir-knot", {more}', own)
    assert found.steps[0].after == expected.steps[0].after
    assert sum(used(found)) == approx(sum(used(expected)), rel=0.06)
    assert found.width_mm == approx(expected.width_mm, rel=0.1)
    assert found.knots["weir-knot"] == times


def test_the_left_hand_has_its_mirror_image(tmp_path: Path) -> None:
    step = f'{{ tie = "weir-knot", {ON}, times = 3 }},'
    right, left = planned(tmp_path, step, HALF), planned(tmp_path, step, HALF, left=True)
    assert used(left) == approx(used(right)[::-1])
    assert left.height_mm == approx(right.height_mm)


def test_of_unequal_cords_all_are_reckoned_as_thick_as_the_thickest(tmp_path: Path) -> None:
    """So that nobody runs short, whichever of them comes first."""
    pattern = read_pattern(
        write_pattern(tmp_path, f'{{ tie = "weir-knot", {ON} }},', weir_knot=SQUARE)
    )
    (thin,), (piece,) = pattern.colours, pattern.pieces
    thick = replace(
        thin, letter="T", yarn=replace(thin.yarn, diameter_mm=2 * thin.yarn.diameter_mm)
    )

    def height_mm(letters: str) -> float:
        cords = tuple(replace(cord, colour=c) for cord, c in zip(piece.cords, letters, strict=True))
        mixed = replace(pattern, colours=(thin, thick), pieces=(replace(piece, cords=cords),))
        return make_plan(mixed).parts[0].height_mm

    assert height_mm("BT") == approx(height_mm("TB")) == approx(height_mm("TT"))


def test_a_knot_that_is_drawn_wrong_is_told_at_its_line(tmp_path: Path) -> None:
    wrong = HALF.replace("cords_out", "# ")
    with pytest.raises(SourceError, match=r"knots/weir-knot\.toml:4: these cords go out"):
        planned(tmp_path, f'{{ tie = "weir-knot", {ON} }},', wrong)


ROUND = """\
format = 1
of = "square-knot"
titles = ["weir knot"]
[steps]
cords = [4, 6]
around = true
faces = true
[measures]
kind = "around"
rounds = 2
cord = 10
width = 4
height = 5.0
depth = 3
"""
LED = """\
format = 1
of = "horizontal-double-half-hitch"
titles = ["weir hitch"]
[steps]
cords = [1, 12]
travels = "leader"
slope_degrees = 30
[measures]
kind = "hitch"
rounds = 2
cord = 4
way_on = 2
width = 2
height = 3
least_height = 2.5
most_height = 3.5
depth = 4
"""


def test_a_formula_in_the_file_says_what_a_knot_takes(tmp_path: Path) -> None:
    """On five cords of 3 mm as on four: once round, P is pi (3 + 3) + 2 x 3 or + 3 x 3."""
    for count, hull in ((4, 6.0), (5, 9.0)):
        on = [*range(1, count + 1)]
        cords = '[{ colour = "B", lay = "folded", count = 3 }]'
        step = f'{{ tie = "weir-knot", on = {on} }},'
        path = write_pattern(tmp_path, step, cords, weir_knot=ROUND)
        plan = make_plan(read_pattern(path)).parts[0]
        bare = make_plan(read_pattern(write_pattern(tmp_path, "{ gap_mm = 1 },", cords))).parts[0]
        taken = [a - b + 1 for a, b in zip(used(plan), used(bare), strict=True)][:count]
        knotting = 2 * (math.pi * 6 + hull) + 30
        assert taken == approx([knotting, *[15.0] * (count - 2), knotting])


def test_a_leader_of_the_writers_own_knot_is_led_and_measured_as_its_file_says(
    tmp_path: Path,
) -> None:
    step = '{ tie = "weir-hitch", leader = 1, on = [2, 3, 4] },'
    plan = make_plan(read_pattern(write_pattern(tmp_path, step, weir_hitch=LED))).parts[0]
    assert [leg.cord for leg in plan.steps[0].after] == [1, 2, 2, 1]
    level = LED.replace("slope_degrees = 30\n", "")
    flat = make_plan(read_pattern(write_pattern(tmp_path, step, weir_hitch=level))).parts[0]
    assert plan.height_mm - flat.height_mm == approx(0.9 * 2 * 9 * math.sin(math.radians(30)))
