"""Lay out the states of a part that its figures show: mounted, and after each few steps."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from itertools import takewhile

from publisher.drawing.part.events import Layer
from publisher.drawing.part.lay import SLOT, TAIL, THINNEST, Lay, LegPositions, NumberedSpot
from publisher.drawing.part.mount import lay_mount
from publisher.frozen import frozen
from publisher.knots import Knot
from publisher.model.part_plan import Leg, PartStep, StepsPlan

Knots = Callable[[str], Knot]

MOST_IN_ONE = 3
"""Steps that one figure shows."""
LONGEST_BEFORE = 12.0
"""What was knotted before is shown as long as it is no longer than this, in diameters."""
_ALONE = ("add", "drop", "wrap")
_DRAWN = ("tie", "gap", "cross", "gather", "drop", "add", "wrap", "trim")


@frozen
class Room:
    """From cord to cord, in diameters: where their numbers stand on them, and below their ends."""

    slot: float = SLOT
    end: float = 1.9


def group_steps(part: StepsPlan) -> tuple[tuple[PartStep, ...], ...]:
    """The steps of the instructions, those that share a figure together.

    A step joins the one before it where the cords that it names lie where they did when that
    figure began, so that one set of numbers holds for both. What is glued or sewn joins what is
    before it, as there is nothing to draw.
    """
    groups: list[list[PartStep]] = []
    for step in part.told:
        if groups and _joins(groups[-1], step):
            groups[-1].append(step)
        else:
            groups.append([step])
    return tuple(map(tuple, groups))


def _joins(group: Sequence[PartStep], step: PartStep) -> bool:
    if step.kind not in _DRAWN:
        return True
    drawn = [one for one in group if one.kind in _DRAWN]
    if len(drawn) >= MOST_IN_ONE or not drawn:
        return not drawn
    if step.kind == "trim":
        return True
    if any(one.kind in _ALONE for one in (*drawn, step)):
        return False
    ties = [one for one in (*drawn, step) if one.kind == "tie"]
    if len({one.knot for one in ties}) > 1 or sum(one.times for one in ties) > MOST_IN_ONE:
        return False
    before = group[0].before
    travels = [p for p in (step.leader, step.worker) if p is not None]
    named = (*travels, *step.on)
    return all(before[p - 1] == step.before[p - 1] for p in named if p <= len(before))


def new_lay(part: StepsPlan) -> Lay:
    """An empty layout, in the unit of the part's thickest cord; none is so thin beside it that it
    could not be seen."""
    diameters = {cord.number: cord.diameter_mm for cord in part.cords}
    unit = max(diameters.values())
    thick: dict[Leg, float] = {}
    for cord in part.cords:
        for side in ("left", "right", "only"):
            thick[Leg(cord.number, side)] = max(THINNEST, diameters[cord.number] / unit)
    return Lay(thick, unit)


def states_before(
    part: StepsPlan, groups: Sequence[Sequence[PartStep]], knots: Knots
) -> Iterator[Lay]:
    """Lay out the cords as they are when mounted, then as they are before each group of steps,
    as far up as its figure shows them. What was done before is laid out once for all of them."""
    done = new_lay(part)
    lay_mount(part, done, knots)
    yield done.copied()
    if not groups:
        return
    layer = Layer(done, knots)
    begins = {group[0].number: group for group in groups}
    states: list[LegPositions] = []
    for step in part.steps:
        if step.number in begins:
            states.append(done.state())
            if step.first_pass:
                yield done.copied(_seen_from(done, states[1:-1]))
        if step.number == groups[-1][0].number:
            return
        layer.step(step)


def work_on(before: Lay, group: Sequence[PartStep], knots: Knots, room: Room) -> Lay:
    """Go on from a state: the legs spread and numbered, quiet so far; then a group of steps, if
    there is one; the legs hang down to their numbers."""
    lay = before.copied()
    if group:
        lay.spread(room.slot)
        lay.refresh()
    layer = Layer(lay, knots)
    for step in group:
        layer.step(step)
    _hang_out(lay, room.end)
    return lay


def _seen_from(lay: Lay, states: Sequence[LegPositions]) -> LegPositions | None:
    """The state from which on a figure shows what was knotted, so that it is not too tall: the
    first such state that a figure begins with, or where knots were left out. None: all of it."""
    bottom = lay.lowest(lay.order)
    if not lay.breaks and bottom - lay.top <= LONGEST_BEFORE:
        return None
    if lay.breaks:
        first = lay.last_break()
        since = takewhile(
            lambda state: all(state.ends[leg] >= first.ends[leg] for leg in state.ends),
            reversed(states),
        )
        states = [first, *[*since][::-1]]
    low = (state for state in states if bottom - state.top <= LONGEST_BEFORE)
    return next(low, states[-1] if states else None)


def _hang_out(lay: Lay, least: float) -> None:
    """Lead every leg on down, spread so far that the numbers of their places can be read."""
    hanging = [leg for leg in lay.order if leg not in lay.ended]
    if not hanging:
        return
    xs = [lay.at(leg).x for leg in hanging]
    middle = (min(xs) + max(xs)) / 2
    pitch = max(least, (max(xs) - min(xs)) / max(1, len(xs) - 1))
    if not lay.ended:
        pitch = min(max(2.7, least), pitch)
    bottom = lay.lowest(hanging) + max(TAIL, 0.35 * pitch * len(hanging))
    bottom = max([bottom, *(cut.y + TAIL / 2 for cut in lay.cuts)])
    for index, leg in enumerate(hanging):
        x = middle + (index - (len(hanging) - 1) / 2) * pitch
        lay.drop_to(leg, x, bottom - 1.0)
        lay.drop_to(leg, x, bottom)
        lay.exits.append(NumberedSpot(x, bottom, lay.order.index(leg) + 1))


def bounds(lay: Lay) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of what is drawn."""
    points = [point for ways in lay.ways.values() for way in ways for point in way]
    points += [*lay.bar, *(point for _, way in lay.extra for point in way)]
    xs, ys = [point.x for point in points], [point.y for point in points]
    return min(xs) - 0.9, min(ys) - 0.6, max(xs) + 0.9, max(ys)
