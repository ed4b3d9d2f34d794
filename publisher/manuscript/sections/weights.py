"""Say what finished pieces weigh: each of them, and all together."""

from __future__ import annotations

from collections.abc import Iterator

from publisher.manuscript.context import BookContext
from publisher.model.plan import ChartPlan, PiecePlan
from publisher.plan.parts.lists import fastened


def weight_lines(context: BookContext, piece: PiecePlan) -> tuple[str, ...]:
    """A piece's weight as facts: of one, with what is fastened on it, and where more is made, of
    everything."""
    words, plan = context.words, context.plan
    mass = context.measures.mass(plan.masses_g[piece.id])
    if not makes_several(context):
        return (words("materials.weight_about", mass=mass),)
    everything = context.measures.mass(plan.finished_mass_g)
    key = "materials.weight_each" if piece.make > 1 else "materials.weight_about"
    return words(key, mass=mass), words("materials.weight_all", mass=everything)


def weight_sentences(context: BookContext) -> str:
    """Return what hangs on the wall in the end, piece by piece."""
    return " ".join(_sentences(context))


def makes_several(context: BookContext) -> bool:
    """Return whether more than one piece hangs by itself in the end."""
    return sum(piece.make for piece in hung(context)) > 1


def hung(context: BookContext) -> tuple[PiecePlan, ...]:
    """The pieces that hang by themselves: charts; without any, parts that are fastened nowhere."""
    if context.charts:
        return context.charts
    held = fastened(context.plan.assembly)
    return tuple(part for part in context.plan.parts if not held[part.id])


def _sentences(context: BookContext) -> Iterator[str]:
    words, measures = context.words, context.measures
    pieces = hung(context)
    for piece in pieces:
        key = "piece" if len(pieces) > 1 else "one"
        values = {
            "mass": measures.mass(context.plan.masses_g[piece.id]),
            "piece": context.piece_name(piece.id),
            "n": str(piece.make),
        }
        number = "each" if piece.make > 1 else "alone"
        if isinstance(piece, ChartPlan):
            values["dowel"] = measures.length(piece.dowel_length_mm, "up")
            number += "_dowel"
        yield words(f"cautions.weight_{key}_{number}", **values)
    if makes_several(context):
        yield words("cautions.weight_all", mass=measures.mass(context.plan.finished_mass_g))
