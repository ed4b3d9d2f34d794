"""Tell from a planned pattern which cautions it must carry, and which knots it uses."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from publisher.knots.defaults import defaults
from publisher.model.part_plan import AssemblyPlan, StepsPlan
from publisher.model.pattern import Fibre
from publisher.model.plan import ChartPlan, CutLine
from publisher.plan.parts.lists import fastened, free_length, glues, is_small, part_knots

FREE_CORD_MM = 220.0
"""Longest free cord without a caution (background figure of toy standards, from memory)."""
STEAMED: Fibre = "cotton"
"""The fibre that is smoothed with a steaming iron."""
HEAVY_G = 1000.0
LONG_DOWEL_MM = 600.0
MANY_KNOTS = 2000


def free_cord(
    charts: Sequence[ChartPlan], parts: Sequence[StepsPlan], assembly: Sequence[AssemblyPlan]
) -> float:
    """The longest cord that hangs free in the finished work, in mm."""
    hanging = (max(*chart.fringe_mm, chart.hanging_loop_mm) for chart in charts)
    return max((*hanging, *(free_length(part, assembly) for part in parts)), default=0.0)


def find_cautions(
    charts: Sequence[ChartPlan],
    parts: Sequence[StepsPlan],
    assembly: Sequence[AssemblyPlan],
    heaviest_g: float,
    cutting: Sequence[CutLine],
    fibres: Collection[Fibre | None],
) -> tuple[str, ...]:
    """Codes of the cautions that a pattern sets off, in the order to print."""
    dowel = max((chart.dowel_length_mm for chart in charts), default=0.0)
    knots = sum(chart.total_knots * chart.make for chart in charts)
    knots += sum(part.total_knots * part.make for part in parts)
    held = fastened(assembly)
    found = {
        "hot-glue": glues(parts, assembly),
        "hot-iron": STEAMED in fibres,
        "small-parts": any(held[part.id] and is_small(part) for part in parts),
        "free-cords": free_cord(charts, parts, assembly) > FREE_CORD_MM,
        "working-cords": any(line.length_mm > FREE_CORD_MM for line in cutting),
        "weight": heaviest_g > HEAVY_G or dowel > LONG_DOWEL_MM,
        "flames": True,
        "cutting-tools": bool(charts or parts),
        "hands": knots > MANY_KNOTS,
        "selling": True,
    }
    return tuple(code for code, set_off in found.items() if set_off)


def knot_names(
    charts: Sequence[ChartPlan], parts: Sequence[StepsPlan], assembly: Sequence[AssemblyPlan]
) -> tuple[str, ...]:
    """The knots that a pattern uses, in the order that a maker meets them."""
    names: list[str] = []
    for chart in charts:
        names += [chart.piece.mount.knot, chart.piece.knot]
    for part in parts:
        names += part_knots(part)
    sewn = any(step.deed == "sew" for step in assembly)
    if sewn or any(chart.end_pairs for chart in charts):
        names.append(defaults().yarn_ends)
    if charts:
        names.append(defaults().cord_ends)
    return tuple(dict.fromkeys(names))
