"""Match the colours of two releases, and tell what became of each."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from publisher.errata.compare.changes import ColourChange, YarnChange
from publisher.errata.compare.content import ColourTold, ReleaseContent, YarnTold

_KEYS: tuple[Callable[[ColourTold], object], ...] = (
    lambda colour: colour,
    lambda colour: (colour.name, colour.srgb, colour.yarn),
    lambda colour: colour.letter,
    lambda colour: colour.name,
)
"""By what colours are taken for the same, the surest first."""


def match_letters(before: Sequence[ColourTold], after: Sequence[ColourTold]) -> dict[str, str]:
    """Old letters and the letters that those colours have now."""
    letters: dict[str, str] = {}
    for key in _KEYS:
        free = [colour for colour in after if colour.letter not in letters.values()]
        for old in before:
            same = next((new for new in free if key(new) == key(old)), None)
            if old.letter not in letters and same is not None:
                letters[old.letter] = same.letter
                free.remove(same)
    return letters


def with_keys_of(before: ReleaseContent, after: ReleaseContent) -> ReleaseContent:
    """The old content, a yarn that is only called by another key now under that key.

    A key is what the writer's files call a yarn by; no maker is told it.
    """
    known, now = {yarn.key for yarn in before.yarns}, {yarn.key for yarn in after.yarns}
    gone = [yarn for yarn in before.yarns if yarn.key not in now]
    fresh = {replace(yarn, key=""): yarn.key for yarn in after.yarns if yarn.key not in known}
    keys = {yarn.key: fresh.get(replace(yarn, key=""), yarn.key) for yarn in gone}
    return replace(
        before,
        yarns=tuple(replace(yarn, key=keys.get(yarn.key, yarn.key)) for yarn in before.yarns),
        colours=tuple(replace(one, yarn=keys.get(one.yarn, one.yarn)) for one in before.colours),
        shopping=tuple(replace(one, yarn=keys.get(one.yarn, one.yarn)) for one in before.shopping),
    )


def colour_changes(
    before: Sequence[ColourTold], after: Sequence[ColourTold], letters: Mapping[str, str]
) -> tuple[ColourChange, ...]:
    """Return what is gone or other, in the old order, then what is new."""
    now = {colour.letter: colour for colour in after}
    changes = [
        ColourChange(old, now.get(letters.get(old.letter, "")))
        for old in before
        if now.get(letters.get(old.letter, "")) != old
    ]
    known = set(letters.values())
    return (*changes, *(ColourChange(None, new) for new in after if new.letter not in known))


def yarn_changes(before: Sequence[YarnTold], after: Sequence[YarnTold]) -> tuple[YarnChange, ...]:
    """The same for yarns, which are known by their keys."""
    old, new = ({yarn.key: yarn for yarn in yarns} for yarns in (before, after))
    return tuple(
        YarnChange(old.get(key), new.get(key))
        for key in dict.fromkeys((*old, *new))
        if old.get(key) != new.get(key)
    )
