"""Labels in knot figures: no two can be read as one, and none lies on a cord or on the number of
the stage."""

from __future__ import annotations

from itertools import combinations, pairwise

import pytest

from publisher.drawing.knot.labels import BELOW_EM, BESIDE_EM, Label, kept_apart
from publisher.drawing.knot.scene import PicturedCord, scene
from publisher.drawing.knot.stages import _Panel
from publisher.knots import Knot, load_knots
from publisher.knots.turn import mirror_knot
from publisher.manuscript.edition import read_edition
from tests.support.shop import installed

KNOTS = {name: knot for name, knot in load_knots().items() if name != "alternating-square-knots"}
"""Every knot and procedure that books show."""
SIZES = [("booklet", 39.0), ("booklet", 29.0), ("large-print", 60.0)]
"""Of figures: the usual one, one of six in a line, and the largest."""
CLEAR_MM = 0.05


def shown(knot: Knot, hand: str) -> Knot:
    return mirror_knot(knot) if hand == "left" else knot


def gap(label: Label, place: complex) -> float:
    """How far a place is from a label's box."""
    off = place - label.middle
    across = max(abs(off.real) - label.width_mm / 2, 0.0)
    down = max(abs(off.imag) - label.height_mm / 2, 0.0)
    return abs(complex(across, down))


def band(cord: PicturedCord) -> list[complex]:
    """Places all over a cord, from side to side, its ends cut square."""
    plane = cord.walk[0]
    places = []
    for one, other in pairwise(plane):
        if one != other:
            side = (other - one) / abs(other - one) * 1j * cord.diameter / 2
            places += [at + side * k / 2 for at in (one, other) for k in (-2, -1, 0, 1, 2)]
    return places


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize(("edition", "width"), SIZES)
@pytest.mark.parametrize("name", KNOTS)
def test_labels_stand_clear_of_each_other_and_of_the_cords(
    name: str, edition: str, width: float, hand: str
) -> None:
    panel = _Panel(read_edition(installed(), edition, "a4").look, width, width * 1.3, {})
    knot = shown(KNOTS[name], hand)
    _, radius, disc = panel._disc_place()
    for number, stage in enumerate(knot.stages, 1):
        form = knot.tight if stage.finished and knot.tight else knot.loose
        scale, origin = panel._fit(stage.view or form.view)
        cords = scene(form, stage)
        labels = panel._labels(form, stage, cords, scale, origin)
        for one, other in combinations(labels, 2):
            assert apart(one, other), (number, one.words, other.words)
        places = [place * scale + origin for cord in cords for place in band(cord)]
        for label in labels:
            assert gap(label, disc) > radius, (number, label.words)
            assert min(gap(label, place) for place in places) > CLEAR_MM, (number, label.words)
            assert label.width_mm / 2 < label.middle.real < width - label.width_mm / 2
            assert label.height_mm / 2 < label.middle.imag < width * 1.3 - label.height_mm / 2


REACH = 2.7
"""How far from its cord a label may stand, in cord diameters; a dowel's is the farthest."""


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("name", KNOTS)
def test_labels_stand_beside_the_cords_that_they_name(name: str, hand: str) -> None:
    """Slanting knots too, whose labels slant with them."""
    knot = shown(KNOTS[name], hand)
    for number, stage in enumerate(knot.stages, 1):
        form = knot.tight if stage.finished and knot.tight else knot.loose
        for cord in scene(form, stage):
            strand = form.strands[cord.name]
            at = stage.labels.get(cord.name, strand.label_at)
            if strand.label and at is not None:
                off = min(abs(place - at) for place in cord.walk[0])
                assert off < REACH, (number, strand.label, off)


def apart(one: Label, other: Label) -> bool:
    """Is there nearly the room between two that there ought to be?"""
    off, em = other.middle - one.middle, max(one.em_mm, other.em_mm)
    across = abs(off.real) - (one.width_mm + other.width_mm) / 2
    down = abs(off.imag) - (one.height_mm + other.height_mm) / 2
    return across > 0.95 * BESIDE_EM * em or down > 0.95 * BELOW_EM * em


def labels_at(*places: complex) -> list[Label]:
    ink = read_edition(installed(), "booklet", "a4").look.colours["ink"]
    return [Label(str(n), place, "semibold", 9.0, ink) for n, place in enumerate(places, 1)]


def test_numbers_on_a_line_part_sideways_and_keep_their_middle_and_order() -> None:
    one, two = kept_apart(labels_at(19.5 + 40j, 20.0 + 40j), 39.0, 50.0)
    assert apart(one, two)
    assert one.middle.real < two.middle.real
    assert one.middle.imag == two.middle.imag == 40
    assert (one.middle.real + two.middle.real) / 2 == pytest.approx(19.75)


def test_numbers_in_a_column_part_up_and_down() -> None:
    one, two = kept_apart(labels_at(20 + 20j, 20 + 22j), 39.0, 50.0)
    assert apart(one, two)
    assert one.middle.real == two.middle.real == 20


def test_labels_with_room_between_them_stay_where_they_are() -> None:
    labels = labels_at(10 + 20j, 20 + 20j, 10 + 30j)
    assert kept_apart(labels, 39.0, 50.0) == labels


def test_labels_at_an_edge_come_inside_and_push_the_others_on() -> None:
    one, two = kept_apart(labels_at(-1 + 20j, 0.5 + 20j), 39.0, 50.0)
    assert one.middle.real > one.width_mm / 2
    assert apart(one, two)
