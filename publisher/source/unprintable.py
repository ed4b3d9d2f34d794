"""Find the words of a pattern that no page can show: the fonts have no glyph for some character.

Editions without pages can show them, so a pattern that has some is a pattern all the same.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Iterator, Sequence

from publisher.errors import Place, Problem
from publisher.fonts import lacking_characters
from publisher.model.parts import Glue, Repeat, Sew, Step, StepsPiece
from publisher.model.pattern import Pattern
from publisher.source.terms import Written
from publisher.tables.findings import KeyPath
from publisher.tables.words import can_be_seen

TITLE_FACES = ("serif", "semibold", "sans")
WORD_FACES = ("semibold", "sans")
_MOST_NAMED = 5
_Printed = tuple[KeyPath, str]
"""The way to a value in the pattern's file, or its house's, and what is printed of it."""


def find_unprintable(pattern: Pattern) -> tuple[Problem, ...]:
    """A problem for each text with characters that the faces of the house lack, at its place."""
    found = [
        (way, lacking)
        for way, text in _printed(pattern)
        if (lacking := lacking_characters(text, _faces(way)))
    ]
    if not found:
        return ()
    written = Written(pattern)
    return tuple(
        Problem(_place(written, pattern.path, way, lacking[0]), *_said(way, lacking))
        for way, lacking in found
    )


def _faces(way: KeyPath) -> Sequence[str]:
    return TITLE_FACES if way == ("title",) else WORD_FACES


def _printed(pattern: Pattern) -> Iterator[_Printed]:
    """Yield all words of the writer's own that pages show, in the order of a file."""
    for key in ("title", "subtitle", "designer", "contact", "level"):
        yield (key,), getattr(pattern, key)
    yield ("about",), " ".join(pattern.about)
    for colour in pattern.colours:
        yield ("colours", colour.letter), colour.letter
        yield ("colours", colour.letter, "name"), colour.name
    for yarn in dict.fromkeys(colour.yarn for colour in pattern.colours):
        yield ("yarns", yarn.key, "name"), yarn.name
    for index, piece in enumerate(pattern.pieces):
        if isinstance(piece, StepsPiece):
            if piece.bar:
                yield ("pieces", index, "mount", "on"), piece.bar.name
            yield from _of_steps(piece.steps, ("pieces", index, "steps"))
    for index, step in enumerate(pattern.assembly):
        yield ("assembly", index, "note"), step.note


def _of_steps(steps: Sequence[Step], above: KeyPath) -> Iterator[_Printed]:
    for index, step in enumerate(steps):
        way: KeyPath = (*above, index)
        if isinstance(step, Glue | Sew):
            yield (*way, "glue" if isinstance(step, Glue) else "sew"), step.what
        yield (*way, "note"), step.note
        if isinstance(step, Repeat):
            yield from _of_steps(step.steps, (*way, "steps"))


def _place(written: Written, own: str, way: KeyPath, sign: str) -> Place:
    """Return where a character stands, in a pattern's own file if in no other."""
    file = written.holding(way) or own
    places = written.places.get(file)
    if places is None:  # gone meanwhile: then the file alone is told
        return Place(file)
    return Place(file, *(places.sign(way, sign) or (places.line(way), None)))


def _said(way: KeyPath, lacking: str) -> tuple[str, str]:
    """Return what is wrong, and what to do."""
    named = ", ".join(_named(sign) for sign in lacking[:_MOST_NAMED])
    more = f" and {len(lacking) - _MOST_NAMED} more" if len(lacking) > _MOST_NAMED else ""
    if way[:1] == ("colours",) and len(way) == 2:
        hint = "give the colour another letter, here and in the chart"
        return f"pages can't show the colour's letter: the fonts have no {named}", hint
    return f"pages can't show this `{way[-1]}`: the fonts have no {named}{more}", _hint(lacking)


def _named(sign: str) -> str:
    code = f"U+{ord(sign):04X}"
    return f"{sign} ({code})" if can_be_seen(sign) else code


def _hint(lacking: str) -> str:
    if any(unicodedata.bidirectional(sign) in ("R", "AL") for sign in lacking):
        return "write it from left to right: Latin, Greek and Cyrillic letters can be printed"
    if any(unicodedata.category(sign)[0] in "LM" for sign in lacking):
        return "write it with others: most of Latin, Greek and Cyrillic can be printed"
    return "say it in words, or with other signs"
