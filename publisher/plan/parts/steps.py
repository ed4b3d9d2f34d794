"""Work a part's steps on its legs: who lies where, how much each has used, how low it hangs."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Any

from publisher.knots import lengths
from publisher.knots.defaults import defaults
from publisher.knots.measures import Coil
from publisher.model.part_plan import Leaving, Leg, PartStep, RepeatPlan
from publisher.model.parts import (
    Add,
    Cross,
    Drop,
    Gap,
    Gather,
    Glue,
    Repeat,
    Sew,
    Step,
    Tie,
    Trim,
    Wrap,
)
from publisher.plan.parts.hitches import hitch_run
from publisher.plan.parts.mounting import PITCH, NewCord, PartInWork
from publisher.source.follow import order_after


def work_steps(
    work: PartInWork, steps: Iterable[Step], number: int = 1, *, first: bool = True
) -> int:
    """Work steps, numbered from `number` on; the number after the last.

    `first`: this is the first pass of every repeat that they stand in.
    """
    for step in steps:
        if not isinstance(step, Repeat):
            work.steps.append(_worked(work, step, number, first))
            number += 1
            continue
        after = number
        for index in range(step.times):
            after = work_steps(work, step.steps, number, first=first and index == 0)
        if first:
            work.repeats.append(RepeatPlan(number, after - 1, step.times, step.note))
        number = after
    return number


def _worked(work: PartInWork, step: Step, number: int, first: bool) -> PartStep:
    blank = PartStep(number, "tie", tuple(work.order), (), first, note=step.note)
    done = _DEEDS[type(step)](work, step, blank)
    work.order = order_after(step, work.order, work.tying, done.legs)
    return replace(done, after=tuple(work.order))


def _tie(work: PartInWork, step: Tie, done: PartStep) -> PartStep:
    legs = work.at(step.on)
    done = replace(
        done,
        on=step.on,
        legs=legs,
        knot=step.knot,
        leader=step.leader,
        worker=step.worker,
        facing=step.facing,
        times=step.times,
    )
    start = step.leader or step.worker
    if start is not None:
        travels = work.order[start - 1]
        hitch_run(work, step, travels, legs)
        return replace(done, travels=travels, way="right" if step.on[0] > start else "left")
    _tie_down(work, step, legs)
    return done


def _tie_down(work: PartInWork, step: Tie, legs: tuple[Leg, ...]) -> None:
    """A knot on legs side by side, as often as the step says."""
    knot = work.library[step.knot]
    out = work.tying(step.knot).order_out(len(legs), step.facing)
    for _ in range(step.times):
        taken = knot.taken([work.thick(leg) for leg in legs], step.facing)
        top = max(work.low[leg] for leg in legs)
        bottom = top + taken.height_mm
        for leg, length in zip(legs, taken.cords_mm, strict=True):
            work.bring_down(leg, top)
            work.used[leg] += length
            work.low[leg] = bottom
        work.note_span(top, bottom, legs, taken.width_mm, taken.depth_mm)
        legs = tuple(legs[place - 1] for place in out)
    work.knots[step.knot] += step.times


def _leave_gap(work: PartInWork, step: Gap, done: PartStep) -> PartStep:
    legs = work.at(step.on) or work.uncut
    if not legs:
        return replace(done, kind="gap", length_mm=step.gap_mm)
    bottom = max(work.low[leg] for leg in legs) + step.gap_mm
    for leg in legs:
        work.bring_down(leg, bottom)
    return replace(done, kind="gap", on=step.on, legs=legs, length_mm=step.gap_mm)


def _cross(work: PartInWork, step: Cross, done: PartStep) -> PartStep:
    legs = work.at((step.front, step.back))
    thick = max(work.thick(leg) for leg in legs)
    top = max(work.low[leg] for leg in legs)
    for leg in legs:
        work.bring_down(leg, top)
        work.used[leg] += math.hypot(PITCH * thick, 2 * thick)
        work.low[leg] = top + 2 * thick
    return replace(done, kind="cross", on=(step.front, step.back), legs=legs)


def _gather(work: PartInWork, step: Gather, done: PartStep) -> PartStep:
    return replace(done, kind="gather", on=step.on, legs=work.at(step.on))


def _drop(work: PartInWork, step: Drop, done: PartStep) -> PartStep:
    legs = work.at(step.on)
    return replace(done, kind="drop", on=step.on, legs=legs)


def _add(work: PartInWork, step: Add, done: PartStep) -> PartStep:
    cord = NewCord(step.colour, step.lay, None, "", done.number)
    work.cords.append(cord)
    thick, number = work.diameters[step.colour], len(work.cords)
    level = max(work.low[leg] for leg in work.order)
    sides: tuple[Leaving, ...] = ("only",) if step.lay == "single" else ("left", "right")
    legs = tuple(Leg(number, side) for side in sides)
    half = PITCH * thick * len(work.order) / 2 if step.lay == "across" else thick
    for leg in legs:
        work.used[leg] = 0.0 if step.lay == "single" else half
        work.low[leg] = level
    if step.lay == "single":
        cord.fixed_mm = work.tail_mm
    order = order_after(step, work.order, work.tying, legs)
    on = tuple(order.index(leg) + 1 for leg in legs)
    return replace(done, kind="add", on=on, legs=legs, cord=number)


def _wrap(work: PartInWork, step: Wrap, done: PartStep) -> PartStep:
    legs = work.at(step.on)
    thick = work.diameters[step.colour]
    core = max(work.thick(leg) for leg in legs)
    bundle = lengths.bundle_diameter(len(legs)) * core
    knot = defaults().wrap
    length = work.library[knot].formula(Coil).wrapping(step.turns, bundle, thick)
    fixed = length + 2 * work.tail_mm
    work.cords.append(NewCord(step.colour, "single", None, "", done.number, True, fixed))
    top, tall = max(work.low[leg] for leg in legs), step.turns * thick
    wide = bundle + 2 * thick
    for leg in legs:
        work.bring_down(leg, top)
        work.used[leg] += lengths.straight(tall)
        work.low[leg] = top + tall
    work.note_span(top, top + tall, legs, wide, wide)
    work.knots[knot] += 1
    return replace(
        done,
        kind="wrap",
        on=step.on,
        legs=legs,
        knot=knot,
        turns=step.turns,
        cord=len(work.cords),
    )


def _trim(work: PartInWork, step: Trim, done: PartStep) -> PartStep:
    legs = work.at(step.on) or work.uncut
    work.tails |= dict.fromkeys(legs, step.trim_mm)
    return replace(done, kind="trim", on=step.on, legs=legs, length_mm=step.trim_mm)


def _glue(work: PartInWork, step: Glue, done: PartStep) -> PartStep:
    return replace(done, kind="glue", what=step.what)


def _sew(work: PartInWork, step: Sew, done: PartStep) -> PartStep:
    return replace(done, kind="sew", what=step.what)


_DEEDS: Mapping[type, Callable[[PartInWork, Any, PartStep], PartStep]] = {
    Tie: _tie,
    Gap: _leave_gap,
    Cross: _cross,
    Gather: _gather,
    Drop: _drop,
    Add: _add,
    Wrap: _wrap,
    Trim: _trim,
    Glue: _glue,
    Sew: _sew,
}
