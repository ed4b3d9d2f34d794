"""Tell what changed in the knotted parts, and in putting the pieces together."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from publisher.errata.compare.align import align
from publisher.errata.compare.changes import FactChange, PartChange, PlaceChange, StepChange
from publisher.errata.compare.content import ChartTold, PartTold, StepTold
from publisher.model import units
from publisher.model.part_plan import AssemblyPlan

_OTHER = 3  # more than to leave one out and put another in


def part_change(before: PartTold, after: PartTold, letters: Mapping[str, str]) -> PartChange | None:
    """None where nothing changed. `letters`: old ones to those of now."""
    change = PartChange(
        piece=after.id,
        facts=tuple(_facts(before, after)),
        cords=_cords(before, letters) != _cords(after, None),
        steps=tuple(_steps(before.steps, after.steps, letters)),
        repeats=before.repeats != after.repeats,
    )
    return change if change.facts or change.cords or change.steps or change.repeats else None


def _facts(before: PartTold, after: PartTold) -> Iterator[FactChange]:
    for name in ("make", "bar", "tail_mm", "allowance_percent"):
        was, now = getattr(before, name), getattr(after, name)
        if was != now:
            yield FactChange(name, was, now)
    yield from size_change(before, after)


def size_change(before: ChartTold | PartTold, after: ChartTold | PartTold) -> Iterator[FactChange]:
    """Of a finished size that is printed otherwise than it was: to half cm and quarter inches."""
    was, now = ((piece.width_mm, piece.height_mm) for piece in (before, after))
    if _printed(*was) != _printed(*now):
        yield FactChange("size", was, now)


def _printed(*lengths_mm: float) -> list[tuple[str, str]]:
    return [(units.centimetres(length_mm), units.inches(length_mm)) for length_mm in lengths_mm]


def _cords(part: PartTold, letters: Mapping[str, str] | None) -> list[object]:
    if letters is None:
        return list(part.cords)
    return [replace(cord, colour=letters.get(cord.colour, "")) for cord in part.cords]


def _steps(
    before: Sequence[StepTold], after: Sequence[StepTold], letters: Mapping[str, str]
) -> Iterator[StepChange]:
    """Steps, whatever their numbers are."""
    old = [replace(step, number=0, colour=letters.get(step.colour, "")) for step in before]
    new = [replace(step, number=0) for step in after]
    for i, j in _differing(old, new, lambda step: (step.kind, step.knot)):
        yield StepChange(None if i is None else before[i], None if j is None else after[j])


def place_changes(
    before: Sequence[AssemblyPlan], after: Sequence[AssemblyPlan]
) -> tuple[PlaceChange, ...]:
    """Steps of putting together, whatever their numbers and marks are."""
    old, new = [[_unmarked(step) for step in steps] for steps in (before, after)]
    return tuple(
        PlaceChange(None if i is None else before[i], None if j is None else after[j])
        for i, j in _differing(old, new, lambda step: (step.deed, step.piece))
    )


_Step = TypeVar("_Step")


def _differing(
    old: Sequence[_Step], new: Sequence[_Step], kind: Callable[[_Step], object]
) -> Iterator[tuple[int | None, int | None]]:
    """Places, from 0, of steps that belong together and are not the same. Of one kind they are
    taken for a step that was changed, else for one left out and another put in."""

    def cost(i: int, j: int) -> int:
        if old[i] == new[j]:
            return 0
        return 1 if kind(old[i]) == kind(new[j]) else _OTHER

    for i, j in align(old, new, cost, 1):
        if i is None or j is None or old[i] != new[j]:
            yield i, j


def _unmarked(step: AssemblyPlan) -> AssemblyPlan:
    place = step.placement
    return replace(step, number=0, placement=place and replace(place, mark=None))
