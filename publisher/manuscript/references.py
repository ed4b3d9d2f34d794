"""Turn references to what an edition leaves out into plain words.

A writer's own edition may have any of the sections: where the knots are left out, “a lark's head
(page 22)” becomes “a lark's head”.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from typing import Any

from publisher.manuscript import blocks
from publisher.manuscript.blocks import Section, Span, Text
from publisher.manuscript.markup import is_elsewhere, without_page_words, without_pages


def without_lost_references(sections: Sequence[Section]) -> tuple[Section, ...]:
    """The sections, with no link and no page number of a place that none of them has."""
    known = frozenset(_places(tuple(sections)))
    return tuple(_mended(section, known) for section in sections)


def _places(value: Any) -> Iterator[str]:
    """The names of all places that links can lead to."""
    if isinstance(value, tuple):
        for one in value:
            yield from _places(one)
    elif _is_block(value) and not isinstance(value, Span):
        if isinstance(value, Section):
            yield from (value.name, *value.also)
        elif getattr(value, "target", None):
            yield value.target
        for field in dataclasses.fields(value):
            yield from _places(getattr(value, field.name))


def _mended(value: Any, known: Collection[str]) -> Any:
    """A value without lost references; plans and pictures, which have none, as they are."""
    if isinstance(value, str):
        return without_page_words(value, lambda target: target not in known)
    if isinstance(value, tuple):
        if value and all(isinstance(one, Span) for one in value):
            return _text(value, known)
        return tuple(_mended(one, known) for one in value)
    if not _is_block(value):
        return value
    fields = {field.name: getattr(value, field.name) for field in dataclasses.fields(value)}
    changed = {name: _mended(one, known) for name, one in fields.items()}
    if isinstance(value, Section) and (draw := value.smaller):
        changed["smaller"] = lambda size: _mended(draw(size), known)
    return replace(value, **changed)


def _text(text: Text, known: Collection[str]) -> Text:
    kept = without_pages(text, lambda target: target not in known)
    return tuple(
        replace(span, target=None)
        if span.target and span.target not in known and not is_elsewhere(span.target)
        else span
        for span in kept
    )


def _is_block(value: Any) -> bool:
    return type(value).__module__ == blocks.__name__ and dataclasses.is_dataclass(value)
