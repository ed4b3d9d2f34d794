"""Wherever a knot's words say left or right, its drawing has it there, in either hand."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Callable, Iterator

import pytest

from publisher.knots import Knot, load_knots
from publisher.knots.model import Strand
from publisher.knots.turn import mirror_knot

KNOTS = load_knots()
SIDED = re.compile(r"\b(left|right)\b", re.I)
Claim = Callable[[Knot], float]
"""Less than nothing at the left, more at the right."""


def strand(knot: Knot, name: str) -> Strand:
    return knot.loose.strands[name]


def place(knot: Knot, name: str, mark: str) -> float:
    """How far to the right a mark is; that of the strand's beginning, if none is named."""
    points = strand(knot, name).points
    return next((point.x for point in points if point.mark == mark), points[0].x)


def at(name: str, mark: str) -> Claim:
    """The strand is on that side of the picture's middle."""
    return lambda knot: place(knot, name, mark)


def way(name: str, start: str, end: str) -> Claim:
    """The strand goes to that side."""
    return lambda knot: place(knot, name, end) - place(knot, name, start)


def out(name: str) -> Claim:
    """The strand leaves at that side."""
    return lambda knot: strand(knot, name).points[-1].x - strand(knot, name).points[0].x


def round_the(name: str, start: str, end: str) -> Claim:
    """Where the strand goes from the back to the front, farthest from the middle."""

    def side(knot: Knot) -> float:
        points = strand(knot, name).points
        marks = [point.mark for point in points]
        between = points[marks.index(start) if start else 1 : marks.index(end)]
        return max((point.x for point in between if not point.z), key=abs)

    return side


def tail(stage: int, name: str, beside: str, mark: str = "") -> Claim:
    """In a stage the strand ends on that side of a place of a strand."""

    def side(knot: Knot) -> float:
        shown = knot.stages[stage - 1].shown
        assert shown is not None
        return shown[name].tail[-1].x - place(knot, beside, mark)

    return side


def loop(name: str) -> Claim:
    """In the finished knot the strand turns round farthest from where it came in."""

    def side(knot: Knot) -> float:
        assert knot.tight is not None
        points = knot.tight.strands[name].points
        return max((point.x for point in points), key=lambda x: abs(x - points[0].x))

    return side


def first_number(knot: Knot) -> float:
    """The side at which cord 1 hangs."""
    places = {one.label: one.points[0].x for one in knot.loose.strands.values()}
    return places["1"] - places[max(places)]


HITCH = {"1": [way("W", "", "first")], "2": [way("W", "first", "second")]}
CLAIMS: dict[str, dict[str, list[Claim]]] = {
    "pair-tied-double-knot": {"2": [at("A", "half")]},
    "vertical-double-half-hitch": {
        "1": [round_the("W", "", "first")],
        "2": [round_the("W", "first", "second")],
        "3": [out("W")],
    },
    "horizontal-double-half-hitch": HITCH,
    "diagonal-double-half-hitch": HITCH,
    "gathering-double-half-hitch": HITCH,
    "alternating-half-hitches": {"2": [at("A", "out1")], "4": [at("B", "out2")]},
    "half-knot": {"2": [at("B", "loop")]},
    "square-knot": {
        "check": [loop("B")],
        "2": [at("B", "loop1")],
        "3": [at("A", "right"), way("A", "right", "front2")],
        "4": [at("B", "loop2")],
    },
    "alternating-square-knots": {"intro": [first_number]},
    "carrying-from-above": {"1": [tail(1, "A", "F2")], "2": [way("A", "carried", "out")]},
    "starting-a-yarn": {"1": [tail(1, "W", "F2")]},
    "turning-at-the-end": {
        "1": [way("W", "", "end")],
        "2": [tail(2, "W", "W", "end")],
        "3": [way("W", "turn", "out")],
    },
}
"""What each left and right in a knot's words says of its drawing, in the words' order."""


def words_of(knot: Knot) -> Iterator[tuple[str, str]]:
    yield "intro", knot.intro
    yield "check", knot.check
    for number, stage in enumerate(knot.stages, 1):
        yield str(number), stage.words


@pytest.mark.parametrize("hand", ["right", "left"])
@pytest.mark.parametrize("name", KNOTS)
def test_left_and_right_are_where_the_words_say(name: str, hand: str) -> None:
    knot = mirror_knot(KNOTS[name]) if hand == "left" else KNOTS[name]
    claims = CLAIMS.get(name, {})
    for where, words in words_of(knot):
        sides = [side.lower() for side in SIDED.findall(words)]
        found = ["right" if claim(knot) > 0 else "left" for claim in claims.get(where, [])]
        assert sides == found, (where, words)


@pytest.mark.parametrize("name", KNOTS)
def test_a_mirror_changes_every_left_and_right_and_nothing_else_but_numbers(name: str) -> None:
    other = {"left": "right", "right": "left"}
    for (where, words), (_, mirror) in zip(
        words_of(KNOTS[name]), words_of(mirror_knot(KNOTS[name])), strict=True
    ):
        swapped = SIDED.sub(lambda match: other[match[0].lower()], words)
        assert re.sub(r"\d", "", mirror) == re.sub(r"\d", "", swapped), where


def test_a_writers_words_change_sides_with_capitals_kept() -> None:
    """What ours may not say, a title or a sentence that begins with a side, a writer's own may."""
    own = dataclasses.replace(
        KNOTS["square-knot"],
        titles=("Left weir knot", "weir knot to the left"),
        intro="Left over right. Then right over left.",
    )
    other = mirror_knot(own)
    assert other.titles == ("Right weir knot", "weir knot to the right")
    assert other.intro == "Right over left. Then left over right."
