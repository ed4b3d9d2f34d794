"""Make a knot from another one that is drawn already: turned over, mirrored or slanted."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from publisher.knots.model import Knot
from publisher.knots.reader import (
    Reader,
    folded,
    read_box,
    read_cords,
    read_measures,
    read_tying,
)
from publisher.knots.turn import mirror_knot, slanted, turn_over

_TURNS: Mapping[str, Callable[[Knot], Knot]] = {"over": turn_over, "mirror": mirror_knot}
_KEYS = (
    *("format", "of", "turn", "slant", "titles", "abbreviation", "way", "intro", "check", "uses"),
    *("view", "tight_view", "cords_in", "cords_out", "steps", "measures", "words"),
)


def derived(reader: Reader, data: Mapping[str, Any], name: str) -> Knot | None:
    """The other knot's drawing, turned as the file says, with the file's own words."""
    reader.known(data, (), _KEYS)
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
    words = reader.texts(data, ("words",), tuple(stage.words for stage in knot.stages))
    if len(words) != len(knot.stages):
        reader.problem(("words",), "there is not one text a stage", f"write {len(knot.stages)}")
        return None
    cords_in, cords_out = read_cords(reader, data, knot.loose.strands)
    return replace(
        knot,
        name=name,
        titles=reader.texts(data, ("titles",), knot.titles) or (name,),
        abbreviation=reader.take(data, ("abbreviation",), str, knot.abbreviation),
        way=reader.take(data, ("way",), str, knot.way),
        intro=folded(reader.take(data, ("intro",), str, knot.intro)),
        check=folded(reader.take(data, ("check",), str, knot.check)),
        uses=reader.texts(data, ("uses",), knot.uses),
        stages=tuple(
            replace(stage, words=folded(text))
            for stage, text in zip(knot.stages, words, strict=True)
        ),
        cords_in=cords_in,
        cords_out=cords_out,
        tying=read_tying(reader, data, cords_in, cords_out),
        measures=read_measures(reader, data),
    )


def _seen(knot: Knot, reader: Reader, data: Mapping[str, Any]) -> Knot:
    """The knot with the views that the file states."""
    view, tight_view = (read_box(reader, data, (name,)) for name in ("view", "tight_view"))
    if view:
        knot = replace(knot, loose=replace(knot.loose, view=view))
    if tight_view and knot.tight:
        knot = replace(knot, tight=replace(knot.tight, view=tight_view))
    return knot
