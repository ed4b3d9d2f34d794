"""The library as it is published: names, geometry, words, and what a mirror makes of them."""

from __future__ import annotations

import re

import pytest

from publisher.knots import Knot, knots_as_json, load_knots
from publisher.knots.crossings import find_crossings
from publisher.knots.curve import Curve
from publisher.knots.turn import mirror_knot, turn_over

KNOTS = load_knots()
NAMES = {
    "larks-head": "WD",
    "reverse-larks-head": "WD",
    "overhand": "W",
    "overhand-extra-turn": "W",
    "pair-tied-double-knot": "AB",
    "vertical-double-half-hitch": "W12",
    "horizontal-double-half-hitch": "WL",
    "diagonal-double-half-hitch": "WL",
    "gathering-double-half-hitch": "WL12",
    "alternating-half-hitches": "AB",
    "half-knot": "AB12",
    "square-knot": "AB12",
    "wrapping-knot": "W12",
    "berry-knot": "AB12",
}
"""Every listed knot and its strands; 1 and 2 are F1 and F2."""
LISTED = knots_as_json()


def test_all_names_are_listed_with_their_strands() -> None:
    found = {knot["name"]: {strand["name"] for strand in knot["strands"]} for knot in LISTED}
    assert found == {
        name: {f"F{letter}" if letter.isdigit() else letter for letter in letters}
        for name, letters in NAMES.items()
    }
    assert {knot.name for knot in KNOTS.values() if knot.kind == "procedure"} == {
        "alternating-square-knots",
        "starting-a-yarn",
        "joining-a-length",
        "carrying-behind",
        "carrying-from-above",
        "turning-at-the-end",
        "tying-ends-on-the-back",
        "trimming-a-straight-fringe",
        "trimming-a-pointed-fringe",
        "trimming-an-arched-fringe",
    }


@pytest.mark.parametrize("knot", LISTED, ids=lambda knot: knot["name"])
def test_the_listed_polylines_show_every_crossing(knot: dict) -> None:  # type: ignore[type-arg]
    """Straight from point to point, as a reader of the JSON would join them."""
    curves = {}
    for strand in knot["strands"]:
        assert strand["role"] in ("working", "filler", "leader", "dowel")
        points = [complex(x, y) for x, y, _ in strand["points"]]
        heights = [z for _, _, z in strand["points"]]
        curves[strand["name"]] = _polyline(points, heights)
    form = KNOTS[knot["name"]].loose
    assert _ways(find_crossings(curves)) == _ways(form.crossings)


def _ways(crossings: object) -> list[tuple[str, str, int]]:
    return sorted((c.over.strand, c.under.strand, c.sign) for c in crossings)  # type: ignore[attr-defined]


def _polyline(points: list[complex], heights: list[float]) -> Curve:
    plane, height = [points[0]], [heights[0]]
    for k in range(1, len(points)):
        for share in (1 / 3, 2 / 3, 1):
            plane.append(points[k - 1] + share * (points[k] - points[k - 1]))
            height.append(heights[k - 1] + share * (heights[k] - heights[k - 1]))
    return Curve(tuple(plane), tuple(height))


@pytest.mark.parametrize("knot", LISTED, ids=lambda knot: knot["name"])
def test_strands_end_on_the_edge_of_the_drawing(knot: dict) -> None:  # type: ignore[type-arg]
    places = [point for strand in knot["strands"] for point in strand["points"]]
    edges = [(min(p[axis] for p in places), max(p[axis] for p in places)) for axis in (0, 1)]
    for strand in knot["strands"]:
        for end in (strand["points"][0], strand["points"][-1]):
            assert any(
                min(abs(end[axis] - edge) for edge in edges[axis]) < 0.75 for axis in (0, 1)
            ), (strand["name"], end)


@pytest.mark.parametrize("knot", KNOTS.values(), ids=lambda knot: knot.name)
def test_no_two_cords_touch_in_the_drawing(knot: Knot) -> None:
    for crossing in knot.loose.crossings:
        assert crossing.gap > 0.2, crossing
        assert crossing.sine > 0.3, crossing


@pytest.mark.parametrize("knot", KNOTS.values(), ids=lambda knot: knot.name)
def test_a_knot_says_how_it_is_tied(knot: Knot) -> None:
    assert knot.title[0].islower(), "titles stand in sentences"
    assert knot.intro and knot.check and knot.uses
    for stage in knot.stages:
        assert stage.words.endswith(".")
        assert stage.words.count("*") % 2 == 0
        assert len(stage.words) < 160, "it stands under a narrow figure"
    words = " ".join([knot.intro, *(stage.words for stage in knot.stages)])
    labels = {s.label for s in knot.loose.strands.values() if s.label and len(s.label) == 1}
    spans = set(re.findall(r"\b(\d) to (\d)\b", words))
    inside = {str(n) for a, b in spans for n in range(int(a), int(b) + 1)}
    for label in labels:
        assert re.search(rf"\b{label}\b", words) or label in inside, f"{label} is never named"


@pytest.mark.parametrize("knot", KNOTS.values(), ids=lambda knot: knot.name)
def test_a_mirror_of_a_mirror_is_the_knot(knot: Knot) -> None:
    again = mirror_knot(mirror_knot(knot))
    assert [stage.words for stage in again.stages] == [stage.words for stage in knot.stages]
    assert (again.intro, again.check, again.way) == (knot.intro, knot.check, knot.way)
    for name, strand in knot.loose.strands.items():
        assert again.loose.strands[name].label == strand.label
        for one, other in zip(again.loose.strands[name].points, strand.points, strict=True):
            assert (one.x, one.y, one.z) == pytest.approx((other.x, other.y, other.z))


@pytest.mark.parametrize("knot", KNOTS.values(), ids=lambda knot: knot.name)
def test_turning_over_twice_gives_the_knot_back(knot: Knot) -> None:
    again = turn_over(turn_over(knot))
    assert [stage.words for stage in again.stages] == [stage.words for stage in knot.stages]


def test_a_mirror_changes_left_and_right_in_the_words() -> None:
    knot = KNOTS["vertical-double-half-hitch"]
    mirror = mirror_knot(knot)
    assert knot.way == "worked to the right" and mirror.way == "worked to the left"
    for stage, mirrored in zip(knot.stages, mirror.stages, strict=True):
        assert ("right" in stage.words) == ("left" in mirrored.words)
        assert "above" in mirrored.words or "above" not in stage.words


def test_turning_over_changes_front_and_behind_in_the_words() -> None:
    words = turn_over(KNOTS["vertical-double-half-hitch"]).stages[0].words
    assert words.startswith("Lay W *in front of* 1 and 2") and "across the back" in words


def test_the_reading_of_words_needs_no_second_drawing() -> None:
    """A derived knot has its own words and the other's curves."""
    straight, diagonal = (
        KNOTS[name].loose.strands["W"]
        for name in ("horizontal-double-half-hitch", "diagonal-double-half-hitch")
    )
    for one, other in zip(straight.points, diagonal.points, strict=True):
        assert other.x == one.x and other.y == pytest.approx(one.y + 0.5 * one.x)


def test_knots_of_the_library_are_read_just_once() -> None:
    assert load_knots()["overhand"] is load_knots()["overhand"]
    with pytest.raises(KeyError):
        load_knots()["granny"]


def test_words_and_numbers_of_a_mirror_agree() -> None:
    """Hanging cords are numbered from the left in either hand, as on the chart, and words that tell
    them apart go by the new numbers; those of a bundle that lies across, from the top."""
    mirrored = {name: mirror_knot(KNOTS[name]).loose.strands for name in KNOTS}
    hitch = mirrored["vertical-double-half-hitch"]
    assert {s.label: s.points[0].x for s in hitch.values() if s.role == "filler"} == {
        "1": -0.5,
        "2": 0.5,
    }
    bundle = mirrored["gathering-double-half-hitch"]
    assert (bundle["F1"].label, bundle["F2"].label) == ("1", "2")
    for name, count in (("carrying-behind", 4), ("carrying-from-above", 3)):
        cords = [strand for strand in mirrored[name].values() if strand.role == "filler"]
        from_left = sorted(cords, key=lambda strand: strand.points[0].x)
        assert [strand.label for strand in from_left] == [str(n + 1) for n in range(count)]
    words = [stage.words for stage in mirror_knot(KNOTS["carrying-behind"]).stages]
    assert words[0].startswith("A rests after cord 4; B knots 3 and 2.")
    assert "cord 1 " in words[1]
    last = mirrored["turning-at-the-end"]
    assert (last["F1"].label, last["F2"].label) == ("", "last")
