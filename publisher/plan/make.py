"""Turn a pattern into its working plan."""

from __future__ import annotations

from collections.abc import Mapping

from publisher.plan.advice import advise
from publisher.plan.assembly import plan_assembly
from publisher.plan.cautions import find_cautions, finished_mass, free_cord, knot_names
from publisher.plan.chart import plan_chart
from publisher.plan.cutting import cutting_list
from publisher.plan.hanging import hanging_in_piece
from publisher.plan.part_lists import fastened, left_over, part_mass
from publisher.plan.parts import plan_part
from publisher.plan.shopping import shopping_list
from publisher.plan.values import ChartPlan, PiecePlan, Plan
from publisher.source.pattern import ChartPiece, Pattern, Piece, Yarn


def make_plan(pattern: Pattern) -> Plan:
    """The whole plan of a pattern: every number that is printed anywhere."""
    pieces = tuple(_plan_piece(piece, pattern) for piece in pattern.pieces)
    both = list(zip(pieces, pattern.pieces, strict=True))
    charts = [
        (plan, piece)
        for plan, piece in both
        if isinstance(plan, ChartPlan) and isinstance(piece, ChartPiece)
    ]
    parts = tuple(plan for plan in pieces if not isinstance(plan, ChartPlan))
    assembly = plan_assembly(pattern)
    planned = [plan for plan, _ in charts], parts, assembly
    cutting = cutting_list(pieces, pattern.colours)
    yarns = {colour.letter: colour.yarn for colour in pattern.colours}
    masses = {part.id: part_mass(part, yarns) for part in parts}
    masses |= {plan.id: _mass(plan, piece, yarns) for plan, piece in charts}
    held = fastened(assembly)
    heaviest = max((masses[plan.id] for plan, _ in charts), default=0.0)
    fibres = {colour.yarn.fibre for colour in pattern.colours}
    heaviest += sum(masses[part.id] * held[part.id] for part in parts)
    return Plan(
        slug=pattern.slug,
        title=pattern.title,
        version=pattern.version,
        colours=pattern.colours,
        pieces=pieces,
        cutting_list=cutting,
        shopping=shopping_list(cutting, pattern.colours),
        finished_mass_g=sum(masses[piece.id] * piece.make for piece in pieces),
        cautions=find_cautions(*planned, heaviest, cutting, fibres),
        knot_names=knot_names(*planned),
        advice=(
            *(a for plan, piece in charts for a in advise(plan, piece, pattern.colours)),
            *left_over(parts, assembly),
        ),
        assembly=assembly,
        free_cord_mm=free_cord(*planned),
    )


def _plan_piece(piece: Piece, pattern: Pattern) -> PiecePlan:
    if isinstance(piece, ChartPiece):
        return plan_chart(piece, pattern)
    return plan_part(piece, pattern)


def _mass(plan: ChartPlan, piece: ChartPiece, yarns: Mapping[str, Yarn]) -> float:
    cord_mm = yarns[plan.cord_colour].diameter_mm
    hanging_mm = hanging_in_piece(piece, plan.cell, plan.fringe_mm, cord_mm)
    return finished_mass(plan, yarns, hanging_mm)
