"""Turn references to what an edition leaves out into plain words.

A writer's own edition may have any of the sections: where the knots are left out, “a lark's head
(page 22)” becomes “a lark's head”.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import replace
from typing import Any, TypeVar

from publisher.manuscript import blocks
from publisher.manuscript.blocks import Section, Span, Text
from publisher.manuscript.markup import is_elsewhere, without_page_words, without_pages

_Value = TypeVar("_Value")


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


def _mended(value: _Value, known: Collection[str]) -> _Value:
    """The same, where nothing is lost; the plan and pictures, in any case."""
    mended: Any = value
    if isinstance(value, str):
        mended = without_page_words(value, lambda target: target not in known)
    elif isinstance(value, tuple):
        if value and all(isinstance(one, Span) for one in value):
            return _text(value, known)  # type: ignore[return-value]
        mended = tuple(_mended(one, known) for one in value)
    elif _is_block(value):
        mended = _block(value, known)
    return value if mended == value else mended


def _block(value: Any, known: Collection[str]) -> Any:
    changed = {
        field.name: _mended(getattr(value, field.name), known)
        for field in dataclasses.fields(value)
        if field.name != "smaller"
    }
    if isinstance(value, Section) and value.smaller is not None:
        changed["smaller"] = _smaller(value.smaller, known)
    return replace(value, **changed)


def _smaller(
    draw: Callable[[float], tuple[blocks.Block, ...]], known: Collection[str]
) -> Callable[[float], tuple[blocks.Block, ...]]:
    return lambda size: _mended(draw(size), known)


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
