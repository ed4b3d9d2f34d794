"""The work that a part's drawings take grows with its steps, not with their square."""

from __future__ import annotations

import cProfile
import pstats
from collections.abc import Callable

import pytest

from publisher.drawing import draw_part, draw_part_steps
from publisher.knots import load_knots
from publisher.model.parts import Cross, Gap, PartCord, Step, Tie
from publisher.plan import make_plan
from tests.support.charts import look
from tests.support.parts import part, pattern_of

KNOTS = load_knots().__getitem__
LINES = ((3, 54.0), (2, 84.0), (1, 174.0))


def noted(count: int) -> tuple[Step, ...]:
    """The same knot over and over, each with words of its own."""
    return tuple(
        Tie(knot="square-knot", on=(1, 2, 3, 4), note=f"Knot {n}.") for n in range(1, count + 1)
    )


def varied(count: int) -> tuple[Step, ...]:
    """Steps that differ from those before and after."""
    kinds: list[Callable[[int], Step]] = [
        lambda n: Tie(knot="square-knot", on=(1, 2, 3, 4)),
        lambda n: Cross(front=n % 3 + 1, back=n % 3 + 2),
        lambda n: Tie(knot="overhand", on=(n % 4 + 1,)),
        lambda n: Gap(gap_mm=5.0 + n % 7),
        lambda n: Tie(knot="diagonal-double-half-hitch", leader=1, on=(2, 3, 4)[: n % 3 + 1]),
    ]
    return tuple(kinds[n % len(kinds)](n) for n in range(count))


def calls(steps: tuple[Step, ...]) -> int:
    """How many functions are called to draw a part's steps, and the whole of it."""
    cords = (
        PartCord("G", "folded", None, "larks-head"),
        PartCord("O", "folded", None, "larks-head"),
    )
    pattern = pattern_of(part(cords, steps))
    plan = make_plan(pattern).parts[0]
    profile = cProfile.Profile()
    profile.enable()
    draw_part_steps(plan, pattern.colours, KNOTS, look(), LINES, 80.0, 54.0)
    draw_part(plan, pattern.colours, KNOTS, look(), 150.0, 200.0)
    profile.disable()
    return int(pstats.Stats(profile).total_calls)  # type: ignore[attr-defined]


@pytest.mark.parametrize(("steps", "count"), [(noted, 200), (varied, 60)])
def test_twice_as_many_steps_take_twice_the_work(
    steps: Callable[[int], tuple[Step, ...]], count: int
) -> None:
    calls(steps(10))  # what is kept of knots, whoever drew them first
    few, many = calls(steps(count)), calls(steps(2 * count))
    assert many < 2.2 * few
