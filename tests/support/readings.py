"""Read crossings as knotters and as knot theory do: over and under, and linking numbers."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.knots.crossings import Crossing


def reading(crossings: Sequence[Crossing], strand: str) -> tuple[tuple[str, str], ...]:
    """Along a strand from its start: (O or U, the other strand), as `(("U", "F1"), …)`."""
    events = []
    for crossing in crossings:
        if crossing.over.strand == strand:
            events.append((crossing.over.u, "O", crossing.under.strand))
        if crossing.under.strand == strand:
            events.append((crossing.under.u, "U", crossing.over.strand))
    return tuple((way, other) for _, way, other in sorted(events))


def linking(crossings: Sequence[Crossing], one: str, other: str) -> float:
    """Half the sum of the signs of the crossings of two different strands, ends held."""
    pair = {one, other}
    return sum(c.sign for c in crossings if {c.over.strand, c.under.strand} == pair) / 2
