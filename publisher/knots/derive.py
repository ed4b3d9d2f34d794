"""Make a knot from another one that is drawn already: turned over, mirrored or slanted."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from publisher.knots.format import OwnTurnedTable, TurnedTable
from publisher.knots.model import Knot
from publisher.knots.reader import Reader
from publisher.knots.turn import mirror_knot, slanted, turn_over
from publisher.knots.words import stages_worded
from publisher.tables.words import shown

_TURNS: Mapping[str, Callable[[Knot], Knot]] = {"over": turn_over, "mirror": mirror_knot}


def derived(reader: Reader, table: TurnedTable) -> Knot | None:
    """The other knot with its words, its drawing turned as the file says."""
    try:
        knot = reader.library(table.of)
    except KeyError:
        hint = "name one of the library"
        reader.problem(("of",), f"there is no knot {shown(table.of)}", hint)
        return None
    if table.turn:
        knot = _TURNS[table.turn](knot)
    if table.slant:
        knot = slanted(knot, table.slant)
    if table.view:
        knot = replace(knot, loose=replace(knot.loose, view=table.view))
    if table.tight_view and knot.tight:
        knot = replace(knot, tight=replace(knot.tight, view=table.tight_view))
    words = table.words if isinstance(table, OwnTurnedTable) else None
    return replace(stages_worded(reader, knot, words, ("words",)), with_article="")
