"""Say a plan's advice in words, with its place in the pattern's file."""

from __future__ import annotations

from publisher.errors import Place
from publisher.manuscript.words import Words
from publisher.model.pattern import Pattern
from publisher.model.plan import Advice
from publisher.tables.findings import KeyPath


def say_advice(advice: Advice, pattern: Pattern, words: Words) -> str:
    """`FILE:LINE:COLUMN: advice: …`; TemplateError if the word list has no words for it."""
    values = {"piece": advice.piece, "row": advice.row, "cord": advice.cord, **advice.values}
    told = words(f"advice.{advice.code}", **values)
    return f"{_place(advice, pattern)}: advice: {told}"


def _place(advice: Advice, pattern: Pattern) -> Place:
    """The key that is meant; or the cell, where the chart stands in the file as text."""
    path = _key_path(advice)
    if path:
        from publisher.source import written_at

        place = written_at(pattern, path)
        return place if place.line else written_at(pattern, path[-1:])  # or where the house says it
    for piece in pattern.pieces:
        if piece.id != advice.piece:
            continue
        start = piece.place
        if start.line is None or advice.row is None:
            return start
        column = advice.cord + (start.column or 1) - 1 if advice.cord else None
        return Place(start.file, start.line + advice.row - 1, column)
    return Place(pattern.path)


def _key_path(advice: Advice) -> KeyPath:
    """The way to the key that an advice is about; () where it is about a piece or a cell."""
    for table, key in (("yarns", "yarn_key"), ("colours", "colour_key")):
        if key in advice.values:
            return table, str(advice.values[key]), "name"
    table, *keys = str(advice.values.get("key_path", "")).split("/")
    if table == "pieces":
        return table, int(keys[0]), *keys[1:]
    return (table, *keys) if table else ()
