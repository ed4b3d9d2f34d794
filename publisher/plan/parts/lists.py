"""What a part adds to the lists of a pattern: lengths to cut, weight, knots, and what can hurt."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from publisher.model.part_plan import AssemblyPlan, StepsPlan
from publisher.model.plan import Advice

SEWING_TAIL_MM = 60
"""Enough to thread on a needle, take to the back and tie (common practice)."""
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
    """Return how many of each piece are sewn or glued to something."""
    counts: Counter[str] = Counter()
    for step in assembly:
        if step.deed != "hang":
            counts[step.piece] += step.count
    return counts


def glues(parts: Iterable[StepsPlan], assembly: Iterable[AssemblyPlan]) -> bool:
    """Return whether anything is glued."""
    in_parts = any(step.kind == "glue" for part in parts for step in part.steps)
    return in_parts or any(step.deed == "glue" for step in assembly)


def is_small(part: StepsPlan) -> bool:
    """Return whether a part fits the small-parts cylinder, whichever way it is turned.

    Its size is only computed, and the cylinder's floor is slanted: where in doubt, it fits.
    """
    thin, broad, long = sorted((part.width_mm, part.height_mm, part.depth_mm))
    return math.hypot(thin, broad) <= CYLINDER_MM and long <= CYLINDER_DEEP_MM


def free_length(part: StepsPlan, assembly: Iterable[AssemblyPlan]) -> float:
    """Return how long a free cord a part makes: all of it, unless its tails are sewn or glued
    down."""
    holds = [
        step.placement.hold if step.placement else "tails"
        for step in assembly
        if step.piece == part.id and step.deed != "hang"
    ]
    held = bool(holds) and "top" not in holds
    return 0.0 if held else part.height_mm + part.ends_mm


def advise_parts(
    parts: Iterable[StepsPlan], assembly: Sequence[AssemblyPlan], *, charts: bool
) -> Iterator[Advice]:
    """Yield what a writer may have overlooked in putting parts on. `charts`: there are some to put
    parts on."""
    held = fastened(assembly)
    sewn = {step.piece for step in assembly if step.deed == "sew" and _by_tails(step)}
    bases = {step.placement.piece for step in assembly if step.placement}
    hung = {step.piece for step in assembly if step.deed == "hang"}
    for part in parts:
        used = held[part.id]
        values: dict[str, str | int | float] = {"made": part.make, "used": used}
        if 0 < used < part.make:
            yield Advice("parts-left-over", part.id, None, None, values)
        if not used and part.id not in bases | hung and (charts or assembly):
            yield Advice("part-nowhere", part.id, None, None, values)
        tails = [leg.tail_mm for cord in part.cords for leg in cord.legs]
        if part.id in sewn and sum(tail >= SEWING_TAIL_MM for tail in tails) < 2:
            yield Advice("sewn-without-tails", part.id, None, None, {"least_mm": SEWING_TAIL_MM})


def _by_tails(step: AssemblyPlan) -> bool:
    return step.placement is None or step.placement.hold == "tails"
