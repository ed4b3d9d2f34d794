"""Parts of cords that are not equally thick: each takes what its own thickness asks for, worked out
by hand from the formulae of the knots.

d is the thickness of the cord that is knotted, df that of what it goes round, n how many of those.
P = pi (df + d) for one, + 2 df for two. The formulae are those of relaxed cord models; no real cord
was knotted.
"""

from __future__ import annotations

import dataclasses
from math import hypot, pi, sin

from pytest import approx

from publisher.model.parts import PartCord, Step, Tie, Wrap
from publisher.plan import make_plan
from tests.support.parts import part, pattern_of

THICK, THIN, MIDDLE = 5.0, 2.0, 3.0
DIAMETERS = {"G": THICK, "O": THIN, "M": MIDDLE}
DOWN = 3.0 * MIDDLE * sin(pi / 4)  # from one slanting hitch to the next


def used(steps: tuple[Step, ...], *cords: PartCord) -> list[float]:
    """What the ends take between the beginning and their tails, in mm, as they lie at first; then
    what the cords take that have none."""
    pattern = pattern_of(part(cords, steps, make=1))
    colours = tuple(
        dataclasses.replace(
            colour,
            yarn=dataclasses.replace(colour.yarn, diameter_mm=DIAMETERS.get(colour.letter, MIDDLE)),
        )
        for colour in pattern.colours
    )
    plan = make_plan(dataclasses.replace(pattern, colours=colours)).parts[0]
    legs = {leg.leg: leg.used_mm for cord in plan.cords for leg in cord.legs}
    wrapped = [cord.used_mm for cord in plan.cords if cord.wraps]
    return [legs[leg] for leg in plan.order] + wrapped


def hung(letters: str) -> list[PartCord]:
    """Single cords side by side."""
    return [PartCord(letter, "single") for letter in letters]


def test_each_side_of_a_square_knot_takes_its_own() -> None:
    knot = Tie(knot="square-knot", on=(1, 2, 3, 4))
    left = pi * (THIN + THICK) + 2 * THIN + 8.75 * THICK  # P + 8.75 d
    right = pi * (THIN + MIDDLE) + 2 * THIN + 8.75 * MIDDLE
    through = 4.0 * THICK  # as high as the thicker of the two makes it
    assert used((knot,), *hung("GOOM")) == approx([left, through, through, right])
    assert used((knot,), *hung("MOOG")) == approx([right, through, through, left])


def test_a_worker_takes_more_round_a_thick_cord_than_round_a_thin_one() -> None:
    run = Tie(knot="vertical-double-half-hitch", worker=1, on=(2, 3))
    hitches = [2 * pi * (df + MIDDLE) + 6.65 * MIDDLE for df in (THICK, THIN)]  # 2 P + 6.65 d
    through = 3.0 * MIDDLE * 1.03
    assert used((run,), *hung("MGO")) == approx([sum(hitches), through, through])


def test_hitches_round_a_thick_leader_take_each_cord_s_own() -> None:
    run = Tie(knot="horizontal-double-half-hitch", leader=1, on=(2, 3))
    thin, middle = (2 * pi * (THICK + d) + 6.65 * d for d in (THIN, MIDDLE))
    along = 3.0 * (THIN + MIDDLE) * 1.03
    assert used((run,), *hung("GOM")) == approx([along, thin, middle])


def test_a_bundle_is_as_thick_as_its_thickest_cord_makes_it() -> None:
    run = Tie(knot="gathering-double-half-hitch", leader=1, on=(2, 3))
    _, first, second = used((run,), *hung("OGM"))
    inside = 3.0 * MIDDLE * 1.03  # it goes on along with the leader, through the next hitch
    assert first == approx(2 * pi * (THIN + THICK) + 6.65 * THICK + inside)
    round_two = 2 * (pi * (THICK + MIDDLE) + 2 * THICK) + 6.65 * MIDDLE
    assert second == approx(round_two + DOWN)


def test_an_overhand_of_two_is_as_large_as_two_of_the_thicker() -> None:
    knot = Tie(knot="overhand", on=(1, 2))
    each = (10.1 + 2.9) * 2 * THICK  # more than straight, and the way through
    assert used((knot,), *hung("GO")) == approx([each, each])
    assert used((knot,), *hung("OG")) == approx([each, each])


def test_two_ends_tied_in_pairs_are_tied_as_the_thicker() -> None:
    knot = Tie(knot="pair-tied-double-knot", on=(1, 2))
    assert used((knot,), *hung("GO")) == approx([8.7 * THICK] * 2)
    assert used((knot,), *hung("OG")) == approx([8.7 * THICK] * 2)


def test_a_wrapping_cord_goes_round_the_bundle_in_its_own_thickness() -> None:
    wrap = Wrap(on=(1, 2), turns=4, colour="O")
    turn = hypot(pi * (2 * THICK + THIN), THIN) + 2 * THIN
    through = 4 * THIN * 1.03
    assert used((wrap,), *hung("GM")) == approx([through, through, 4 * turn])


def test_a_thin_cord_hangs_on_a_thick_one_by_a_wide_fold() -> None:
    ends = used((), PartCord("G", "across"), PartCord("O", "folded", 1, "larks-head"))
    head = (5.25 * THICK + 10 * THIN) / 2 + THICK / 2 + 2 * THIN
    half = 4.0 * THIN * 1.03 / 2
    assert ends == approx([half, head, head, half])
