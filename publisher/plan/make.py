"""Turn a pattern into its working plan."""

from __future__ import annotations

from collections.abc import Mapping

from publisher.model.pattern import ChartPiece, Pattern, Piece, Yarn
from publisher.model.plan import ChartPlan, PiecePlan, Plan
from publisher.plan.advice import advise, unused_colours
from publisher.plan.cautions import find_cautions, free_cord, knot_names
from publisher.plan.chart import plan_chart
from publisher.plan.lists.cutting import cutting_list
from publisher.plan.lists.hanging import hanging_in_piece
from publisher.plan.lists.shopping import shopping_list
from publisher.plan.lists.weights import chart_mass, part_mass, whole_masses
from publisher.plan.parts.assembly import plan_assembly
from publisher.plan.parts.lists import advise_parts
from publisher.plan.parts.plan_part import plan_part
from publisher.plan.plausible import advise_figures, refuse_slips


def make_plan(pattern: Pattern) -> Plan:
    """The whole plan of a pattern: every number that is printed anywhere. SourceError where a
    measured figure can't be right."""
    refuse_slips(pattern)
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
    alone = {plan.id: _mass(plan, piece, yarns) for plan, piece in charts}
    alone |= {part.id: part_mass(part, yarns) for part in parts}
    masses = whole_masses(alone, assembly)
    cut = {line.colour for line in cutting}
    colours = tuple(colour for colour in pattern.colours if colour.letter in cut)
    fibres = {colour.yarn.fibre for colour in colours}
    return Plan(
        slug=pattern.slug,
        title=pattern.title,
        version=pattern.version,
        colours=colours,
        pieces=pieces,
        cutting_list=cutting,
        shopping=shopping_list(cutting, colours),
        finished_mass_g=sum(alone[piece.id] * piece.make for piece in pieces),
        masses_g=masses,
        cautions=find_cautions(*planned, max(masses.values()), cutting, fibres),
        knot_names=knot_names(*planned),
        advice=(
            *(a for plan, piece in charts for a in advise(plan, piece, pattern.colours)),
            *advise_parts(parts, assembly, charts=bool(charts)),
            *unused_colours(pattern.colours, cut),
            *advise_figures(pattern),
        ),
        assembly=assembly,
        free_cord_mm=free_cord(*planned),
    )


def _plan_piece(piece: Piece, pattern: Pattern) -> PiecePlan:
    if isinstance(piece, ChartPiece):
        return plan_chart(piece, pattern)
    return plan_part(piece, pattern)


def _mass(plan: ChartPlan, piece: ChartPiece, yarns: Mapping[str, Yarn]) -> float:
    cord_mm = yarns[plan.piece.cords.colour].diameter_mm
    hanging_mm = hanging_in_piece(piece, plan.cell, plan.fringe_mm, cord_mm)
    return chart_mass(plan, yarns, hanging_mm)
