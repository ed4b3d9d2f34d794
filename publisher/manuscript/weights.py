"""Say what finished pieces weigh: each of them, and all together."""

from __future__ import annotations

from collections.abc import Iterator

from publisher.manuscript.brief import Brief
from publisher.plan.part_lists import fastened
from publisher.plan.values import ChartPlan, PiecePlan


def weight_lines(brief: Brief, piece: PiecePlan) -> tuple[str, ...]:
    """A piece's weight as facts: of one, with what is fastened on it, and where more is made, of
    everything."""
    words, plan = brief.words, brief.plan
    mass = brief.measures.mass(plan.masses_g[piece.id])
    if not makes_several(brief):
        return (words("materials.weight_about", mass=mass),)
    everything = brief.measures.mass(plan.finished_mass_g)
    key = "materials.weight_each" if piece.make > 1 else "materials.weight_about"
    return words(key, mass=mass), words("materials.weight_all", mass=everything)


def weight_sentences(brief: Brief) -> str:
    """What hangs on the wall in the end, piece by piece."""
    return " ".join(_sentences(brief))


def makes_several(brief: Brief) -> bool:
    """Whether more than one piece hangs by itself in the end."""
    return sum(piece.make for piece in hung(brief)) > 1


def hung(brief: Brief) -> tuple[PiecePlan, ...]:
    """The pieces that hang by themselves: charts; without any, parts that are fastened nowhere."""
    if brief.charts:
        return brief.charts
    held = fastened(brief.plan.assembly)
    return tuple(part for part in brief.plan.parts if not held[part.id])


def _sentences(brief: Brief) -> Iterator[str]:
    words, measures = brief.words, brief.measures
    pieces = hung(brief)
    for piece in pieces:
        key = "piece" if len(pieces) > 1 else "one"
        values = {
            "mass": measures.mass(brief.plan.masses_g[piece.id]),
            "piece": brief.piece_name(piece.id),
            "n": str(piece.make),
        }
        number = "each" if piece.make > 1 else "alone"
        if isinstance(piece, ChartPlan):
            values["dowel"] = measures.length(piece.dowel_length_mm, "up")
            number += "_dowel"
        yield words(f"cautions.weight_{key}_{number}", **values)
    if makes_several(brief):
        yield words("cautions.weight_all", mass=measures.mass(brief.plan.finished_mass_g))
