"""Choose a letter for each colour: an initial of its name where that is free."""

from __future__ import annotations

import string
from collections.abc import Collection, Iterator, Sequence

_HARD_TO_READ = frozenset("IlO01")
"""Easily taken for another: taken as a name's own initial, or where nothing else is left."""
_SPARE = [
    sign
    for sign in string.ascii_uppercase + string.ascii_lowercase + string.digits
    if sign not in _HARD_TO_READ
]
_WITH_MARKS = [sign for sign in map(chr, range(0xC0, 0x100)) if sign.isalpha()]
"""Latin letters as other languages have them: for a chart that shares its file with very many."""


def choose_letters(
    names: Sequence[str], wanted: Sequence[str | None], taken: Collection[str] = ()
) -> tuple[str, ...]:
    """One letter each, all different and none of those taken.

    `wanted`: the letter that a colour has elsewhere, if any; it keeps that where it can. There are
    some 120 to choose from.
    """
    used = {*taken}
    letters: list[str | None] = []
    for letter in wanted:
        free = letter if letter and letter not in used else None
        letters.append(free)
        used |= {free} if free else set()
    chosen = []
    for name, own in zip(names, letters, strict=True):
        letter = own or next(sign for sign in _candidates(name) if sign not in used)
        used.add(letter)
        chosen.append(letter)
    return tuple(chosen)


def _candidates(name: str) -> Iterator[str]:
    """The last word's initial, as it says the colour; the other words'; their other letters."""
    words = [word for word in _plain(name).split() if word]
    yield from (word[0] for word in reversed(words))
    for word in reversed(words):
        yield from (sign for sign in word if sign not in _HARD_TO_READ)
    yield from _SPARE
    yield from sorted(_HARD_TO_READ)
    yield from _WITH_MARKS


def _plain(name: str) -> str:
    """Capitals of the Latin alphabet, and blanks."""
    return "".join(sign if sign in string.ascii_uppercase else " " for sign in name.upper())
