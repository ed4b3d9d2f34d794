"""What a part adds to the lists of a pattern: lengths to cut, weight, knots, and what can hurt."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from publisher.plan.part_values import AssemblyPlan, StepsPlan
from publisher.plan.values import Advice

CYLINDER_MM = 31.7
CYLINDER_DEEP_MM = 57.1
"""The small-parts cylinder of 16 CFR 1501.4: its width, and its depth at the deeper side."""


def part_lengths(part: StepsPlan) -> Iterator[tuple[str, float, int]]:
    """Colour, length and how many of it to cut for one part, the longest of a colour first."""
    lengths: dict[str, Counter[float]] = {}
    for cord in part.cords:
        lengths.setdefault(cord.colour, Counter())[cord.cut_mm] += 1
    for colour, counted in lengths.items():
        for length, count in sorted(counted.items(), reverse=True):
            yield colour, length, count


def part_knots(part: StepsPlan) -> Iterator[str]:
    """Its knots, in the order that a maker meets them."""
    for cord in part.cords:
        if cord.knot:
            yield cord.knot
    for step in part.steps:
        if step.knot:
            yield step.knot


def fastened(assembly: Iterable[AssemblyPlan]) -> Counter[str]:
    """How many of each piece are sewn or glued to something."""
    counts: Counter[str] = Counter()
    for step in assembly:
        if step.deed != "hang":
            counts[step.piece] += step.count
    return counts


def glues(parts: Iterable[StepsPlan], assembly: Iterable[AssemblyPlan]) -> bool:
    """Whether anything is glued."""
    in_parts = any(step.kind == "glue" for part in parts for step in part.steps)
    return in_parts or any(step.deed == "glue" for step in assembly)


def is_small(part: StepsPlan) -> bool:
    """Whether a part fits the small-parts cylinder, whichever way it is turned.

    Its size is only computed, and the cylinder's floor is slanted: where in doubt, it fits.
    """
    thin, broad, long = sorted((part.width_mm, part.height_mm, part.depth_mm))
    return math.hypot(thin, broad) <= CYLINDER_MM and long <= CYLINDER_DEEP_MM


def free_length(part: StepsPlan, assembly: Iterable[AssemblyPlan]) -> float:
    """How long a free cord a part makes: all of it, unless its tails are sewn or glued down."""
    holds = [
        step.placement.hold if step.placement else "tails"
        for step in assembly
        if step.piece == part.id and step.deed != "hang"
    ]
    held = bool(holds) and "top" not in holds
    return 0.0 if held else part.height_mm + part.ends_mm


def left_over(parts: Iterable[StepsPlan], assembly: Sequence[AssemblyPlan]) -> Iterator[Advice]:
    """Parts of which more are made than are put on: told, as one may be meant to spare."""
    held = fastened(assembly)
    for part in parts:
        used = held[part.id]
        if 0 < used < part.make:
            values: dict[str, str | int | float] = {"made": part.make, "used": used}
            yield Advice("parts-left-over", part.id, None, None, values)
