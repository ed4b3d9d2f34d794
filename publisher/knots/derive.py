"""Make a knot from another one that is drawn already: turned over, mirrored or slanted."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from publisher.knots.model import Knot
from publisher.knots.reader import Reader, read_box
from publisher.knots.turn import mirror_knot, slanted, turn_over
from publisher.knots.words import read_stage_words

_TURNS: Mapping[str, Callable[[Knot], Knot]] = {"over": turn_over, "mirror": mirror_knot}
DERIVED_KEYS = ("of", "turn", "slant", "words")


def derived(reader: Reader, data: Mapping[str, Any]) -> Knot | None:
    """The other knot with its words, its drawing turned as the file says."""
    try:
        knot = reader.library(reader.take(data, ("of",), str))
    except KeyError:
        reader.problem(("of",), f"there is no knot {data['of']!r}", "name one of the library")
        return None
    turn = reader.take(data, ("turn",), str, "")
    if turn and turn not in _TURNS:
        reader.problem(("turn",), f"{turn!r} is no turn", f"one of {', '.join(_TURNS)}")
    if turn in _TURNS:
        knot = _TURNS[turn](knot)
    if slant := reader.take(data, ("slant",), float, 0.0):
        knot = slanted(knot, slant)
    knot = _seen(knot, reader, data)
    stages = read_stage_words(reader, data, ("words",), knot.stages)
    return replace(knot, with_article="", stages=stages)


def _seen(knot: Knot, reader: Reader, data: Mapping[str, Any]) -> Knot:
    """The knot with the views that the file states."""
    view, tight_view = (read_box(reader, data, (name,)) for name in ("view", "tight_view"))
    if view:
        knot = replace(knot, loose=replace(knot.loose, view=view))
    if tight_view and knot.tight:
        knot = replace(knot, tight=replace(knot.tight, view=tight_view))
    return knot
