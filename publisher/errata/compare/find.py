"""Compare two contents: everything that an earlier buyer may want to know."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from publisher.errata.compare.amounts import buy_changes, cut_changes, more_after_cutting
from publisher.errata.compare.changes import Errata, KnotChange, PieceName, WordChange
from publisher.errata.compare.charts import chart_change
from publisher.errata.compare.colours import (
    colour_changes,
    match_letters,
    with_keys_of,
    yarn_changes,
)
from publisher.errata.compare.content import ChartTold, PartTold, ReleaseContent
from publisher.errata.compare.parts import part_change, place_changes


def find_errata(before: ReleaseContent, after: ReleaseContent) -> Errata:
    """Return what changed; empty if and only if the contents are equal in all that makers are
    told."""
    before = with_keys_of(before, after)
    letters = match_letters(before.colours, after.colours)
    cutting = cut_changes(before.cutting, after.cutting, letters)
    found = Errata(
        cautions_added=_not_in(after.cautions, before.cautions),
        cautions_removed=_not_in(before.cautions, after.cautions),
        pieces_added=_not_in(_ids(after), _ids(before)),
        pieces_removed=_not_in(_ids(before), _ids(after)),
        colours=colour_changes(before.colours, after.colours, letters),
        yarns=yarn_changes(before.yarns, after.yarns),
        charts=tuple(
            change
            for old, new in _same(before.charts, after.charts)
            if (change := chart_change(old, new, letters))
        ),
        parts=tuple(
            told
            for was, now in _same(before.parts, after.parts)
            if (told := part_change(was, now, letters))
        ),
        assembly=place_changes(before.assembly, after.assembly),
        cutting=cutting,
        shopping=buy_changes(before, after, letters),
        after_cutting=more_after_cutting(before, after, letters, cutting),
        knots=tuple(_knots(before.knots, after.knots)),
        words=tuple(_words(before.words, after.words)),
    )
    other = found.is_empty and _unmeasured(before) != _unmeasured(after)
    return replace(found, order=True) if other else found


def _unmeasured(content: ReleaseContent) -> ReleaseContent:
    """The content without its sizes, which are kept finer than they are printed."""
    return replace(
        content,
        charts=tuple(replace(chart, width_mm=0.0, height_mm=0.0) for chart in content.charts),
        parts=tuple(replace(part, width_mm=0.0, height_mm=0.0) for part in content.parts),
    )


_Name = TypeVar("_Name", str, PieceName)
_Told = TypeVar("_Told", ChartTold, PartTold)


def _same(before: Sequence[_Told], after: Sequence[_Told]) -> Iterator[tuple[_Told, _Told]]:
    """Pieces of the same name and kind."""
    old = {piece.id: piece for piece in before}
    return ((old[piece.id], piece) for piece in after if piece.id in old)


def _ids(content: ReleaseContent) -> tuple[PieceName, ...]:
    """Every piece's kind and name."""
    charts = [PieceName("chart", chart.id) for chart in content.charts]
    return (*charts, *(PieceName("steps", part.id) for part in content.parts))


def _not_in(names: Sequence[_Name], others: Sequence[_Name]) -> tuple[_Name, ...]:
    return tuple(name for name in names if name not in others)


def _knots(before: Mapping[str, str], after: Mapping[str, str]) -> Iterator[KnotChange]:
    for name in dict.fromkeys((*before, *after)):
        if before.get(name) != after.get(name):
            yield KnotChange(name, added=name not in before, removed=name not in after)


def _words(
    before: Mapping[str, Sequence[str]], after: Mapping[str, Sequence[str]]
) -> Iterator[WordChange]:
    for name in dict.fromkeys((*after, *before)):
        was, now = tuple(before.get(name, ())), tuple(after.get(name, ()))
        if was != now:
            yield WordChange(name, was, now)
