"""Say what a piece tells of itself now, where that changed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from publisher.errata.compare.changes import FactChange
from publisher.errata.sheet.context import ErrataSheet
from publisher.manuscript.blocks import Text
from publisher.model.parts import Bar
from publisher.model.pattern import Mount

_LENGTHS = ("tail_mm", "full_length_mm", "dowel_length_mm", "hanging_loop_mm")


def fact_words(sheet: ErrataSheet, facts: Sequence[FactChange], piece: str) -> Iterator[Text]:
    for fact in facts:
        if fact.name == "fringe":
            yield _fringe(sheet, fact.before, fact.after)
            continue
        if fact.name == "cords_mm":
            yield sheet.say("fact.cords_mm", piece=sheet.context.piece_name(piece))
            continue
        was, now = (_value(sheet, fact.name, value) for value in (fact.before, fact.after))
        yield sheet.say(f"fact.{fact.name}", was=was, now=now)


def _fringe(sheet: ErrataSheet, before: Any, after: Any) -> Text:
    """`before` and `after`: lengths in mm at some cords. A straight fringe has no template, and
    cords that hang already can't be changed for longer ones."""
    if len({*after}) > 1:
        said = sheet.say("fact.fringe")
    else:
        key = "fringe_straight" if len({*before}) > 1 else "fringe_straight_too"
        length = sheet.context.measures.metric_or_inch
        said = sheet.say(f"fact.{key}", was=length(max(before)), now=length(max(after)))
    longer = any(now > was for was, now in zip(before, after, strict=True))
    return said + (sheet.say("fact.fringe_mounted") if longer else ())


def _value(sheet: ErrataSheet, name: str, value: Any) -> str:
    measures, words = sheet.context.measures, sheet.words
    if name in _LENGTHS:
        return measures.length(value, "up")
    if name == "size":
        return words(
            "units.both", **dict(zip(("first", "second"), measures.size(*value), strict=True))
        )
    if name == "first_row_from":
        return words(f"sides.{value}")
    if name == "order":
        return sheet(f"order.{value}")
    if name == "measured":
        return sheet("gauge.swatch" if value else "gauge.computed")
    if name == "knot":
        return sheet.context.knots[value].title
    if name == "cord_colour":
        return sheet.colour(value)
    if isinstance(value, Mount):
        title = sheet.context.knots[value.knot].title
        thick = measures.thickness(value.diameter_mm)
        return sheet("mount", knot=title, on=value.on, thick=thick)
    if isinstance(value, Bar):
        return sheet("bar", name=value.name, thick=measures.thickness(value.diameter_mm))
    return sheet("nothing") if value is None else f"{value:g}"
