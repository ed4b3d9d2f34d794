"""Say what a piece tells of itself now, where that changed."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from publisher.manuscript.blocks import Text
from publisher.manuscript.errata.desk import Sheet
from publisher.plan.errata.values import FactChange
from publisher.source.parts import Bar
from publisher.source.pattern import Mount

_LENGTHS = ("tail_mm", "full_length_mm", "dowel_length_mm", "hanging_loop_mm")


def fact_words(sheet: Sheet, facts: Sequence[FactChange], piece: str) -> Iterator[Text]:
    for fact in facts:
        if fact.name in ("fringe", "cords_mm"):
            yield sheet.say(f"fact.{fact.name}", piece=sheet.brief.piece_name(piece))
            continue
        was, now = (_value(sheet, fact.name, value) for value in (fact.before, fact.after))
        yield sheet.say(f"fact.{fact.name}", was=was, now=now)


def _value(sheet: Sheet, name: str, value: Any) -> str:
    measures, words = sheet.brief.measures, sheet.words
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
        return sheet.brief.knots[value].title
    if name == "cord_colour":
        return sheet.colour(value)
    if isinstance(value, Mount):
        title = sheet.brief.knots[value.knot].title
        thick = measures.thickness(value.diameter_mm)
        return sheet("mount", knot=title, on=value.on, thick=thick)
    if isinstance(value, Bar):
        return sheet("bar", name=value.name, thick=measures.thickness(value.diameter_mm))
    return sheet("nothing") if value is None else f"{value:g}"
