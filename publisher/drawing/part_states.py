"""Lay out the states of a part that its figures show: mounted, and after each few steps."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from publisher.drawing.part_events import Layer
from publisher.drawing.part_lay import SLOT, TAIL, Lay, Spot, State
from publisher.drawing.part_mount import lay_mount
from publisher.frozen import frozen
from publisher.knots import Knot
from publisher.plan.part_values import Leg, PartStep, StepsPlan

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
    """An empty layout, in the unit of the part's thickest cord."""
    diameters = {cord.number: cord.diameter_mm for cord in part.cords}
    unit = max(diameters.values())
    thick: dict[Leg, float] = {}
    for cord in part.cords:
        for side in ("left", "right", "only"):
            thick[Leg(cord.number, side)] = diameters[cord.number] / unit
    return Lay(thick, unit)


def mounted_lay(part: StepsPlan, knots: Knots, room: Room) -> Lay:
    """The cords when they are mounted, hanging down to their numbers."""
    lay = new_lay(part)
    lay_mount(part, lay, knots)
    _hang_out(lay, room.end)
    return lay


def worked_lay(part: StepsPlan, group: Sequence[PartStep], knots: Knots, room: Room) -> Lay:
    """The state before a group of steps, quiet; the legs spread and numbered; the steps."""
    lay = new_lay(part)
    layer = Layer(lay, knots)
    lay_mount(part, lay, knots)
    for step in part.steps[: part.steps.index(group[0])]:
        layer.step(step)
    begins = {one[0].number for one in group_steps(part)}
    _shorten(lay, [one.number in begins for one in part.steps])
    lay.cuts.clear()
    lay.spread(room.slot)
    lay.refresh()
    for step in group:
        layer.step(step)
    _hang_out(lay, room.end)
    return lay


def _shorten(lay: Lay, begins: Sequence[bool]) -> None:
    """Leave out what was knotted so long ago that the picture would be too tall, up to where a
    figure begins."""
    bottom = lay.lowest(lay.order)
    top = min(point.y for ways in lay.ways.values() for way in ways for point in way)
    if not lay.breaks and bottom - top <= LONGEST_BEFORE:
        return
    states = [state for state, first in zip(lay.states, begins, strict=False) if first][1:]
    if lay.breaks:
        last = {leg: (len(ways) - 1, 0) for leg, ways in lay.ways.items()}
        after = [
            state for state in states if all(state.ends[leg] >= last[leg] for leg in state.ends)
        ]
        states = [State(tuple(lay.order), last, len(lay.extra)), *after]
    for state in states:
        if (
            bottom - min(lay.ways[leg][at][k].y for leg, (at, k) in state.ends.items())
            <= LONGEST_BEFORE
        ):
            lay.crop(state)
            return
    if states:
        lay.crop(states[-1])


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
    for index, leg in enumerate(hanging):
        x = middle + (index - (len(hanging) - 1) / 2) * pitch
        lay.drop_to(leg, x, bottom - 1.0)
        lay.drop_to(leg, x, bottom)
        lay.exits.append(Spot(x, bottom, lay.order.index(leg) + 1))


def bounds(lay: Lay) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of what is drawn."""
    points = [point for ways in lay.ways.values() for way in ways for point in way]
    points += [*lay.bar, *(point for _, way in lay.extra for point in way)]
    xs, ys = [point.x for point in points], [point.y for point in points]
    return min(xs) - 0.9, min(ys) - 0.6, max(xs) + 0.9, max(ys)
