"""Weigh finished pieces: alone, and with the parts that are fastened on them."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from publisher.model.part_plan import AssemblyPlan, StepsPlan
from publisher.model.pattern import Yarn
from publisher.model.plan import ChartPlan

DOWEL_G_PER_CM3 = 0.7
KEPT_TAIL_MM = 20.0
"""What stays of a tail when it is tied and trimmed."""


def chart_mass(chart: ChartPlan, yarns: Mapping[str, Yarn], hanging_mm: float) -> float:
    """Return the grams of one finished chart: the yarn left in it, its loop and its dowel.

    `yarns` by colour letter; `hanging_mm`: mounted cord left in the piece.
    """
    trimmed = max(0.0, chart.piece.tail_mm - KEPT_TAIL_MM)
    grams = 0.0
    for yarn in chart.yarns:
        ends = 2 * (len(yarn.joins) + 1)
        left = yarn.length_mm - ends * trimmed
        grams += left / 1000 * yarns[yarn.colour].grams_per_metre
    cords = hanging_mm + chart.hanging_loop_mm
    grams += cords / 1000 * yarns[chart.piece.cords.colour].grams_per_metre
    radius_cm = chart.piece.mount.diameter_mm / 20
    return grams + math.pi * radius_cm**2 * chart.dowel_length_mm / 10 * DOWEL_G_PER_CM3


def part_mass(part: StepsPlan, yarns: Mapping[str, Yarn]) -> float:
    """Return the grams of one finished part, its ends as they are left. `yarns` as above."""
    grams = 0.0
    for cord in part.cords:
        left = cord.used_mm + sum(leg.tail_mm for leg in cord.legs)
        grams += left / 1000 * yarns[cord.colour].grams_per_metre
    return grams


def whole_masses(
    alone_g: Mapping[str, float], assembly: Sequence[AssemblyPlan]
) -> dict[str, float]:
    """Return the grams of one of each piece, by id, with all parts that are fastened on it; those
    fastened nowhere in particular go with the first piece."""
    first = next(iter(alone_g), "")

    def whole(piece: str, inside: tuple[str, ...]) -> float:
        grams = alone_g.get(piece, 0.0)
        for step in assembly:
            on = step.placement.piece if step.placement else first
            if step.deed != "hang" and on == piece and step.piece not in inside:
                grams += step.count * whole(step.piece, (*inside, step.piece))
        return grams

    return {piece: whole(piece, (piece,)) for piece in alone_g}
