"""Find colours that touch in a chart and are hard to tell apart, for one eye or another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import get_args

from publisher.model.colour import Eye, Lab, difference
from publisher.model.pattern import YarnColour
from publisher.model.plan import Advice, ChartPlan

TELLABLE = 10.0
"""CIEDE2000 between colours that touch, so that an edge shows at arm's length; our own choice.

For comparison, a palette made for most eyes (Okabe and Ito 2008) keeps 10.9, as computed here, in
every simulation.
"""


def alike_neighbours(plan: ChartPlan, colours: Sequence[YarnColour]) -> Iterator[Advice]:
    """Each pair that touches and is under the threshold, by the first way of seeing that fails.

    In order: as it is, without one kind of cone (the worst of three), in grey.
    """
    named = {colour.letter: colour for colour in colours}
    for (one, other), row in _touching(plan).items():
        found = _hard_to_tell(named[one], named[other])
        if found:
            code, apart = found
            cord = _where(plan, row, one, other)
            values: dict[str, str | int | float] = {
                "one": one,
                "one_name": named[one].name,
                "other": other,
                "other_name": named[other].name,
                "difference": round(apart, 1),
                "threshold": TELLABLE,
            }
            yield Advice(code, plan.id, row, cord, values)


def _hard_to_tell(one: YarnColour, other: YarnColour) -> tuple[str, float] | None:
    plain = difference(one.srgb.lab, other.srgb.lab)
    if plain < TELLABLE:
        return "alike", plain
    eyes: tuple[Eye, ...] = get_args(Eye)
    seen, eye = min(
        (difference(one.srgb.lab_seen_by(eye), other.srgb.lab_seen_by(eye)), eye) for eye in eyes
    )
    if seen < TELLABLE:
        return f"alike-{eye}", seen
    grey = difference(_grey(one), _grey(other))
    return ("alike-grey", grey) if grey < TELLABLE else None


def _grey(colour: YarnColour) -> Lab:
    return Lab(colour.srgb.lab.lightness, 0.0, 0.0)


def _touching(plan: ChartPlan) -> dict[tuple[str, str], int]:
    """Pairs of letters side by side or one above the other, with the first row they are in."""
    pairs: dict[tuple[str, str], int] = {}
    above = ""
    for row, cells in enumerate(plan.cells, start=1):
        for one, other in {*pairwise(cells), *zip(cells, above, strict=False)}:
            if one != other:
                pairs.setdefault((min(one, other), max(one, other)), row)
        above = cells
    return dict(sorted(pairs.items(), key=lambda pair: (pair[1], pair[0])))


def _where(plan: ChartPlan, row: int, one: str, other: str) -> int:
    """The first cord of a row where two colours touch, in the row or to the row above."""
    cells = plan.cells[row - 1]
    above = plan.cells[row - 2] if row > 1 else cells
    for at, cell in enumerate(cells):
        if {cell, above[at]} == {one, other} or set(cells[at : at + 2]) == {one, other}:
            return at + 1
    raise KeyError((one, other))
