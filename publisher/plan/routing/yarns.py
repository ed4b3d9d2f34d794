"""Turn chains of passages into named yarns, with their lengths, joins and what to cut."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

from publisher.model.plan import Carry, CellSize, Spot, Stretch, YarnRoute
from publisher.plan.routing.joins import JoinedYarn, join_lengths
from publisher.plan.routing.routes import first_spot, last_spot
from publisher.plan.rows.working_order import Passage

CUT_STEP_MM = 50.0
"""Working lengths are cut in whole steps of this, rounded up."""


class YarnRules(NamedTuple):
    """A piece's rules for its yarns. `knot_mm` by colour letter."""

    cell: CellSize
    knot_mm: Mapping[str, float]
    working_length_mm: float
    tail_mm: float
    allowance_percent: float

    @property
    def reach_mm(self) -> float:
        """The knots and carries that one working length can do."""
        return self.working_length_mm / self.spare - 2 * self.tail_mm

    @property
    def full_length_mm(self) -> float:
        """A working length as it is cut."""
        return round_up(self.working_length_mm, CUT_STEP_MM)

    @property
    def spare(self) -> float:
        return 1 + self.allowance_percent / 100


def name_yarns(
    passages: Sequence[Passage], chains: Sequence[Sequence[int]], rules: YarnRules
) -> tuple[YarnRoute, ...]:
    """One yarn a chain, named by colour in order of start: N1, N2, …"""
    counts: dict[str, int] = {}
    yarns = []
    for chain in chains:
        worked = [passages[index] for index in chain]
        colour = worked[0].colour
        counts[colour] = counts.get(colour, 0) + 1
        yarns.append(_make_yarn(f"{colour}{counts[colour]}", worked, rules))
    return tuple(yarns)


def round_up(length_mm: float, step_mm: float) -> float:
    """Up to the next whole step, but not for what only the arithmetic adds."""
    return math.ceil(round(length_mm / step_mm, 6)) * step_mm


def _make_yarn(name: str, worked: Sequence[Passage], rules: YarnRules) -> YarnRoute:
    colour = worked[0].colour
    stretches = tuple(stretch for passage in worked for stretch in passage.stretches)
    knots = sum(stretch.knots for stretch in stretches)
    carries = tuple(
        _carry(last_spot(one), first_spot(other), rules.cell) for one, other in pairwise(worked)
    )
    knot_mm = rules.knot_mm[colour]
    used = knots * knot_mm + sum(carry.length_mm for carry in carries)
    joined = JoinedYarn((), (used,))
    if used > rules.reach_mm:
        carried = [carry.length_mm for carry in carries]
        joined = join_lengths(worked, carried, knot_mm, rules.reach_mm)
    return YarnRoute(
        id=name,
        colour=colour,
        knots=knots,
        length_mm=used + 2 * rules.tail_mm * len(joined.used_mm),
        stretches=stretches,
        carries=carries,
        joins=_spots(stretches, joined.joins),
        cut_lengths_mm=_cut_lengths(joined.used_mm, rules),
    )


def _carry(origin: Spot, target: Spot, cell: CellSize) -> Carry:
    across, down = abs(target.cord - origin.cord), target.row - origin.row
    return Carry(origin, target, across * cell.width_mm + down * cell.height_mm)


def _spots(stretches: Sequence[Stretch], knots: Sequence[int]) -> tuple[Spot, ...]:
    """The cells of some knots, counted along the yarn from 0, in order."""
    spots = []
    places = iter(stretches)
    stretch, done = next(places), 0
    for knot in knots:
        while knot - done >= stretch.knots:
            done += stretch.knots
            stretch = next(places)
        step = 1 if stretch.last_cord >= stretch.first_cord else -1
        spots.append(Spot(stretch.row, stretch.first_cord + step * (knot - done)))
    return tuple(spots)


def _cut_lengths(used_mm: Sequence[float], rules: YarnRules) -> tuple[float, ...]:
    """Full working lengths, but the last may be shorter; all with the allowance, rounded up."""
    needs = [(used + 2 * rules.tail_mm) * rules.spare for used in used_mm]
    full = [max(need, rules.working_length_mm) for need in needs[:-1]]
    return tuple(round_up(length, CUT_STEP_MM) for length in (*full, needs[-1]))
