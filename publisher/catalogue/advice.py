"""Say a plan's advice in words, with its place in the pattern's file."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.errors import Place
from publisher.manuscript.words import Words
from publisher.model.pattern import Pattern
from publisher.model.plan import Advice


def say_advice(advice: Advice, pattern: Pattern, words: Words) -> str:
    """`FILE:LINE:COLUMN: advice: …`; TemplateError if the word list has no words for it."""
    values = {"piece": advice.piece, "row": advice.row, "cord": advice.cord, **advice.values}
    told = words(f"advice.{advice.code}", **values)
    return f"{_place(advice, pattern)}: advice: {told}"


def _place(advice: Advice, pattern: Pattern) -> Place:
    """The cell that is meant, where the chart stands in the file as text; or the key, the yarn or
    the colour."""
    if "key_path" in advice.values:
        return _place_of_key(pattern, str(advice.values["key_path"]).split("/"))
    for table, key in (("yarns", "yarn_key"), ("colours", "colour_key")):
        if key in advice.values:
            from publisher.source import written_at

            return written_at(pattern, (table, str(advice.values[key]), "name"))
    for piece in pattern.pieces:
        if piece.id != advice.piece:
            continue
        start = piece.place
        if start.line is None or advice.row is None:
            return start
        column = advice.cord + (start.column or 1) - 1 if advice.cord else None
        return Place(start.file, start.line + advice.row - 1, column)
    return Place(pattern.path)


def _place_of_key(pattern: Pattern, keys: Sequence[str]) -> Place:
    """The line of a key; of a piece's, where the house gives it, that one."""
    from publisher.source import written_at

    path = tuple(int(key) if key.isdecimal() else key for key in keys)
    place = written_at(pattern, path)
    return place if place.line else written_at(pattern, path[-1:])
