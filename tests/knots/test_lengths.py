"""The closed forms of lengths against the tight models, which were shortened apart from them.

Both are models of round, hard, frictionless cord; where it says so, the figure is geometry: a
helix, a way round circles. What is known of real cord stands in tests/outside.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import replace

import pytest

from publisher.knots import lengths, load_knots
from publisher.knots.curve import Curve
from publisher.knots.measures import Around, Ball, Coil, Head, Hitch, Scaled
from publisher.knots.model import KnotForm
from publisher.knots.refill import with_fillers
from publisher.knots.tied import measure

KNOTS = load_knots()
WITHIN = 0.05


def tight(knot: str, fillers: int | None = None) -> KnotForm:
    found = KNOTS[knot] if fillers is None else with_fillers(KNOTS[knot], fillers)
    assert found.tight is not None
    return found.tight


def straight(curve: Curve) -> float:
    return abs(curve.plane[-1] - curve.plane[0])


def taken(form: KnotForm, strand: str) -> float:
    """Cord in a strand, more than the straight way from its one end to the other."""
    curve = form.curves[strand]
    return curve.length() - straight(curve)


def between_marks(form: KnotForm, strand: str) -> float:
    points = form.strands[strand].points
    marks = [point.mark for point in points]
    return form.curves[strand].part(marks.index("in"), marks.index("out")).length()


def takes(knot: str, cords: int, cord_mm: float = 1.0) -> tuple[float, ...]:
    """What a knot takes of each of so many cords, by the formula that its file names."""
    return KNOTS[knot].taken([cord_mm] * cords).cords_mm


def alone(knot: str, around: int) -> float:
    """One hitch round so many cords, without the way on to the next one."""
    hitch = KNOTS[knot].formula(Hitch)
    return hitch.in_a_row(around, 1, 1) - hitch.way_on


@pytest.mark.parametrize(
    ("knot", "fillers", "around"),
    [
        ("vertical-double-half-hitch", 2, 2),
        ("vertical-double-half-hitch", 1, 1),
        ("horizontal-double-half-hitch", None, 1),
    ],
)
def test_a_hitch_takes_what_the_closed_form_says(
    knot: str, fillers: int | None, around: int
) -> None:
    expected = alone(knot, around)
    assert taken(tight(knot, fillers), "W") == pytest.approx(expected, rel=WITHIN)


def test_a_gathering_hitch_takes_what_the_closed_form_says() -> None:
    """Here the third cord joins one leader and two cords. Its end then bends along the bundle."""
    curve = tight("gathering-double-half-hitch").strands["W"]
    out = [point.mark for point in curve.points].index("out")
    hitch = curve.curve.part(0, out)
    expected = alone("gathering-double-half-hitch", 3)  # round the leader and two cords
    assert hitch.length() - straight(hitch) == pytest.approx(expected, rel=WITHIN)


def test_a_slanting_hitch_takes_what_a_level_one_does() -> None:
    """Its drawing is that of the level one, sheared, which is no measure of it."""
    level, slanting = KNOTS["horizontal-double-half-hitch"], KNOTS["diagonal-double-half-hitch"]
    assert slanting.measures == level.measures


def test_a_berry_knots_working_cords_take_nearly_what_they_do_in_its_drawing() -> None:
    """The ball's drawing is a tenth looser than four square knots; fillers and size are only
    estimates."""
    knot = KNOTS["berry-knot"]
    drawn = measure(replace(knot, cords_in=("A", "F1", "F2", "B"))).cords
    mean = (drawn[0] + drawn[-1]) / 2
    assert mean == pytest.approx(takes("berry-knot", 4)[0], rel=0.1)


def test_square_knot_takes_what_the_closed_form_says() -> None:
    """One knot of a row of them, 4.0 d apart: A and B differ a little, their mean counts."""
    form = tight("square-knot")
    mean = (between_marks(form, "A") + between_marks(form, "B")) / 2
    assert mean == pytest.approx(takes("square-knot", 4)[0], rel=WITHIN)


def test_half_knot_takes_half_of_a_square_knot() -> None:
    """It stands alone, so the straight way that is not in the knot (half of 4.0 d is) comes off."""
    form = tight("half-knot")
    high = 9.8
    mean = (form.curves["A"].length() + form.curves["B"].length()) / 2
    assert mean - (high - 2.0) == pytest.approx(takes("half-knot", 4)[0], rel=WITHIN)


@pytest.mark.parametrize("knot", ["larks-head", "reverse-larks-head"])
def test_larks_heads_take_what_the_closed_form_says(knot: str) -> None:
    form = tight(knot)
    hanging = sum(form.strands["W"].points[k].y for k in (0, -1))
    expected = KNOTS[knot].formula(Head).mounting(form.strands["D"].diameter, 1)
    assert form.curves["W"].length() - hanging == pytest.approx(expected, rel=WITHIN)


def test_overhand_knots_take_what_the_closed_form_says() -> None:
    for knot in ("overhand", "overhand-extra-turn"):
        extra = KNOTS[knot].formula(Scaled).extra(1)
        assert taken(tight(knot), "W") == pytest.approx(extra, rel=WITHIN), knot


def test_a_pair_tied_end_takes_what_the_closed_form_says() -> None:
    """From the middle of the knot to where the end comes out of it, at half its width."""
    form = tight("pair-tied-double-knot")
    for strand, side in (("A", 1), ("B", -1)):
        curve = form.curves[strand]
        outside = 2 * abs(curve.plane[0].real)
        half_width = max(side * xy.real for xy in curve.samples()[0]) + 0.5
        end = curve.length() - outside + half_width
        assert end == pytest.approx(takes("pair-tied-double-knot", 2)[0], rel=WITHIN)


def test_a_turn_of_the_wrapping_knot_is_a_helix() -> None:
    """Bundle and fold fill a circle of 1 + sqrt(3) = 2.73 d: four equal circles in a rhombus."""
    form = tight("wrapping-knot")
    bundle = 1 + math.sqrt(3)
    helix = math.hypot(math.pi * (bundle + 1), 1)
    curve = form.curves["W"]
    tops = [k for k in range(curve.segments) if abs(curve.at(k)[1] - (0.433 + 1.865)) < 0.16]
    fronts = [k for k in tops if curve.at(k)[0].real < 1]
    turns = [
        curve.part(one, two).length() for one, two in itertools.pairwise(_first_of_each(fronts))
    ]
    assert len(turns) >= 3
    for turn in turns:
        assert turn == pytest.approx(helix, rel=WITHIN)
    assert KNOTS["wrapping-knot"].formula(Coil).wrapping(4, bundle, 1) == pytest.approx(
        4 * helix + 8
    )


def _first_of_each(numbers: list[int]) -> list[int]:
    return [n for k, n in enumerate(numbers) if k == 0 or n > numbers[k - 1] + 1]


def test_the_way_round_fillers_is_the_hull_of_their_circles() -> None:
    """Geometry: pi times the diameters for one, and the straight sides of the hull beyond it."""
    assert lengths.way_round(1, 3, 3) == pytest.approx(6 * math.pi)
    assert lengths.way_round(2, 3, 3) == pytest.approx(6 * math.pi + 2 * 3)
    assert lengths.way_round(3, 3, 3) == pytest.approx(6 * math.pi + 3 * 3)
    assert lengths.way_round(7, 1, 1) == pytest.approx(math.pi * 2 + 6)
    for fillers in range(1, 19):
        assert lengths.way_round(fillers, 1, 1) < lengths.way_round(fillers + 1, 1, 1) + 1e-9


def test_a_swatch_is_applied_to_lengths_and_sizes_apart() -> None:
    swatch = lengths.Swatch(length_factor=0.94, size_factor=0.87)
    assert swatch.length(100) == pytest.approx(94)
    assert swatch.size(100) == pytest.approx(87)
    assert lengths.NO_SWATCH.length(100) == 100


@pytest.mark.parametrize("cord", [0.5, 2.0, 6.0])
def test_lengths_grow_in_step_with_the_cord(cord: float) -> None:
    for knot in KNOTS.values():
        match knot.measures:
            case Hitch() as hitch:
                twice = hitch.in_a_row(2, 2 * cord, 2 * cord)
                assert twice == pytest.approx(2 * hitch.in_a_row(2, cord, cord)), knot.name
            case Head() as head:
                twice = head.mounting(8 * cord, 2 * cord)
                assert twice == pytest.approx(2 * head.mounting(4 * cord, cord)), knot.name
            case Coil() as coil:
                twice = coil.wrapping(4, 8 * cord, 2 * cord)
                assert twice == pytest.approx(2 * coil.wrapping(4, 4 * cord, cord)), knot.name
            case Scaled() | Around() | Ball():
                on = knot.tying.least
                once, double = takes(knot.name, on, cord), takes(knot.name, on, 2 * cord)
                assert double == pytest.approx([2 * length for length in once]), knot.name


def test_tight_cords_touch_but_never_run_through_each_other() -> None:
    """Hard round cord: middles of two cords are one diameter apart, less what the fit costs."""
    for name in (
        "larks-head",
        "pair-tied-double-knot",
        "vertical-double-half-hitch",
        "horizontal-double-half-hitch",
        "gathering-double-half-hitch",
        "half-knot",
        "square-knot",
    ):
        form = tight(name)
        for one, other in itertools.combinations(form.strands.values(), 2):
            least = (one.diameter + other.diameter) / 2
            assert _nearest(one.curve, other.curve) > 0.93 * least, (name, one.name, other.name)


def _nearest(one: Curve, other: Curve) -> float:
    a, b = (
        [(p.real, p.imag, z) for p, z in zip(*curve.samples(4), strict=True)]
        for curve in (one, other)
    )
    if len(b) < 9:
        b = [(p.real, p.imag, z) for p, z in zip(*other.samples(200), strict=True)]
    if len(a) < 9:
        a = [(p.real, p.imag, z) for p, z in zip(*one.samples(200), strict=True)]
    return min(math.dist(p, q) for p in a for q in b)
