"""How yarns are handled and fringes cut: the drawings do what their words say."""

from __future__ import annotations

import re

import pytest

from publisher.knots import Knot, load_knots
from publisher.knots.crossings import find_crossings
from publisher.knots.model import Strand, VisibleStretch
from publisher.knots.turn import mirror_knot
from tests.support.readings import reading

KNOTS = load_knots()
CARRIES = ("carrying-behind", "carrying-from-above")
SHAPES = {
    "trimming-a-straight-fringe": (0, 0),
    "trimming-a-pointed-fringe": (1, 1),
    "trimming-an-arched-fringe": (-1, -1),
}
"""How the length changes from an edge to the next cord, and from there to the middle."""


def ways(knot: Knot, strand: str, *others: str) -> str:
    """Over and under, along a strand, where it meets some others."""
    events = reading(knot.loose.crossings, strand)
    return " ".join(f"{way}({other})" for way, other in events if other in others)


def hitch(filler: str) -> str:
    return " ".join(f"{way}({filler})" for way in "UOUOU")


def at(strand: Strand, mark: str) -> float:
    return next(k for k, point in enumerate(strand.points) if point.mark == mark)


def test_a_yarn_from_the_row_above_passes_behind_the_cord_and_everything_on_it() -> None:
    knot = KNOTS["carrying-from-above"]
    assert ways(knot, "A", "F1") == hitch("F1")
    assert ways(knot, "A", "F2") == "U(F2) " + hitch("F2"), "carried behind it, then tied round it"
    assert ways(knot, "A", "F3") == ""
    assert ways(knot, "B", "F2") == hitch("F2")
    assert ways(knot, "B", "F3") == f"{hitch('F3')} {hitch('F3')}", (
        "there, and back in the next row"
    )
    strand = knot.loose.strands["A"]
    start, end = at(strand, "wait"), at(strand, "carried")
    for crossing in knot.loose.crossings:
        for own, other in ((crossing.over, crossing.under), (crossing.under, crossing.over)):
            if own.strand == "A" and start <= own.u <= end:
                assert crossing.under.strand == "A", other


def test_a_yarn_from_the_row_above_ends_one_row_down_and_on_the_other_side() -> None:
    """It rests at the right of cord 1, comes to the right side of cord 2, and is worked to the
    left, as the row that comes back is."""
    knot = KNOTS["carrying-from-above"]
    points = knot.loose.strands["A"].points
    second = knot.loose.strands["F2"].points[0].x
    rest, carried, out = (points[int(at(knot.loose.strands["A"], m))] for m in MARKS)
    assert 0 < rest.x < second
    end = knot.stages[0].shown
    assert end is not None and end["A"].tail[-1].x > second
    assert carried.y > rest.y and out.y > 4 and out.x < second


MARKS = ("wait", "carried", "out")


def test_a_yarn_carried_within_a_row_passes_behind_the_cords_between() -> None:
    knot = KNOTS["carrying-behind"]
    assert [ways(knot, "A", f"F{n}") for n in (1, 2, 3, 4)] == [
        hitch("F1"),
        "U(F2)",
        "U(F3)",
        hitch("F4"),
    ]


@pytest.mark.parametrize("name", CARRIES)
@pytest.mark.parametrize("hand", ["right", "left"])
def test_hanging_cords_stay_straight_and_a_mirror_keeps_over_and_under(
    name: str, hand: str
) -> None:
    knot = mirror_knot(KNOTS[name]) if hand == "left" else KNOTS[name]
    for strand in knot.loose.strands.values():
        if strand.role == "filler":
            assert len({point.x for point in strand.points}) == 1
        assert reading(knot.loose.crossings, strand.name) == reading(
            KNOTS[name].loose.crossings, strand.name
        )


@pytest.mark.parametrize("name", CARRIES)
def test_a_yarn_carried_in_front_would_be_noticed(name: str) -> None:
    knot = KNOTS[name]
    strand = knot.loose.strands["A"]
    start, end = at(strand, "wait"), at(strand, "carried")
    curves = dict(knot.loose.curves)
    flat = strand.curve
    heights = [-z if start <= k / 3 <= end else z for k, z in enumerate(flat.height)]
    curves["A"] = type(flat)(flat.plane, tuple(heights))
    assert reading(find_crossings(curves), "A") != reading(knot.loose.crossings, "A")


@pytest.mark.parametrize("name", SHAPES)
def test_a_fringe_is_cut_to_the_shape_that_it_is_called_by(name: str) -> None:
    outer, inner = SHAPES[name]
    cuts = [cut.imag for cut in cut_ends(KNOTS[name])]
    assert len(cuts) == 5
    assert cuts == pytest.approx(cuts[::-1]), "as long at one edge as at the other"
    for step, sign in ((cuts[1] - cuts[0], outer), (cuts[2] - cuts[1], inner)):
        assert step == 0 if sign == 0 else step * sign > 0.4


def cut_ends(knot: Knot) -> list[complex]:
    shown = knot.stages[-1].shown
    assert shown is not None
    return [
        knot.loose.strands[name].curve.at(part.end)[0]
        for name, part in shown.items()
        if knot.loose.strands[name].role == "filler"
    ]


@pytest.mark.parametrize("name", SHAPES)
def test_the_line_that_is_cut_along_meets_every_cord_where_it_is_cut(name: str) -> None:
    knot = KNOTS[name]
    lines = guides(knot, 1)
    assert lines and not guides(knot, 2), "it is laid for the cut, and then taken away"
    shares = [k / 200 for k in range(201)]
    places = [s.curve.at(s.curve.segments * share)[0] for s in lines for share in shares]
    for cut in cut_ends(knot):
        assert min(abs(place - cut) for place in places) < 0.3


@pytest.mark.parametrize("name", SHAPES)
def test_what_is_marked_is_cut_there(name: str) -> None:
    """At both edges and in the middle; a ruler that lies level needs no marks."""
    knot = KNOTS[name]
    marks = [strand.curve.at(0.5)[0] for strand in guides(knot, 0)]
    assert len(marks) == (0 if "straight" in name else 3)
    cuts = cut_ends(knot)
    for mark, cut in zip(marks, cuts[::2], strict=False):
        assert abs(mark - cut) < 0.4
    words = knot.stages[0].words
    assert ("both edges" in words and "in the *middle*" in words) == bool(marks)


def guides(knot: Knot, stage: int) -> list[Strand]:
    """The broken lines that a stage shows."""
    shown: dict[str, VisibleStretch] = dict(knot.stages[stage].shown or {})
    strands = (knot.loose.strands[name] for name in shown)
    return [strand for strand in strands if strand.role == "guide"]


@pytest.mark.parametrize("name", SHAPES)
def test_words_of_a_fringe_say_its_shape_and_not_when_the_piece_is_finished(name: str) -> None:
    knot = KNOTS[name]
    said = " ".join([knot.intro, knot.check, *(stage.words for stage in knot.stages)])
    assert ("*longest in the middle*" in said) == ("pointed" in name)
    assert ("*shortest in the middle*" in said) == ("arched" in name)
    assert "template" not in said, "not every book has one"
    assert not re.search(r"\blast, when\b", said)
    assert "when the back is done" in knot.intro and "hangs level" in knot.intro
