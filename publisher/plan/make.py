"""Turn a pattern into its working plan."""

from __future__ import annotations

from publisher.plan.advice import advise
from publisher.plan.cautions import find_cautions, finished_mass, knot_names
from publisher.plan.chart import plan_chart
from publisher.plan.cutting import cutting_list
from publisher.plan.hanging import hanging_in_piece
from publisher.plan.shopping import shopping_list
from publisher.plan.values import ChartPlan, Plan
from publisher.source.pattern import ChartPiece, Pattern


def make_plan(pattern: Pattern) -> Plan:
    """The whole plan of a pattern: every number that is printed anywhere."""
    pieces = tuple(plan_chart(piece, pattern) for piece in pattern.pieces)
    both = list(zip(pieces, pattern.pieces, strict=True))
    cutting = cutting_list(pieces, pattern.colours)
    masses = [_mass(plan, piece, pattern) for plan, piece in both]
    return Plan(
        slug=pattern.slug,
        title=pattern.title,
        version=pattern.version,
        colours=pattern.colours,
        pieces=pieces,
        cutting_list=cutting,
        shopping=shopping_list(cutting, pattern.colours),
        finished_mass_g=sum(mass * p.make for mass, p in zip(masses, pieces, strict=True)),
        cautions=find_cautions(pieces, max(masses, default=0.0)),
        knot_names=knot_names(pieces),
        advice=tuple(a for plan, piece in both for a in advise(plan, piece, pattern.colours)),
    )


def _mass(plan: ChartPlan, piece: ChartPiece, pattern: Pattern) -> float:
    yarns = {colour.letter: colour.yarn for colour in pattern.colours}
    cord_mm = yarns[plan.cord_colour].diameter_mm
    hanging_mm = hanging_in_piece(piece, plan.cell, plan.fringe_mm, cord_mm)
    return finished_mass(plan, yarns, hanging_mm)
