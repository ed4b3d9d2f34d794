"""Work a part's steps on its legs: who lies where, how much each has used, how low it hangs."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from publisher.knots import lengths
from publisher.plan import part_cord
from publisher.plan.part_bench import PITCH, Bench, NewCord
from publisher.plan.part_hitches import hitch_run
from publisher.plan.part_values import Leaving, Leg, PartStep, RepeatPlan
from publisher.source.follow import order_after
from publisher.source.parts import (
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


def work_steps(bench: Bench, steps: Iterable[Step], number: int = 1, *, first: bool = True) -> int:
    """Work steps, numbered from `number` on; the number after the last.

    `first`: this is the first pass of every repeat that they stand in.
    """
    for step in steps:
        if not isinstance(step, Repeat):
            bench.steps.append(_worked(bench, step, number, first))
            number += 1
            continue
        after = number
        for index in range(step.times):
            after = work_steps(bench, step.steps, number, first=first and index == 0)
        if first:
            bench.repeats.append(RepeatPlan(number, after - 1, step.times, step.note))
        number = after
    return number


def _worked(bench: Bench, step: Step, number: int, first: bool) -> PartStep:
    blank = PartStep(number, "tie", tuple(bench.order), (), first, note=step.note)
    done = _DEEDS[type(step)](bench, step, blank)
    bench.order = order_after(step, bench.order, done.legs)
    return replace(done, after=tuple(bench.order))


def _tie(bench: Bench, step: Tie, done: PartStep) -> PartStep:
    legs = bench.at(step.on)
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
        travels = bench.order[start - 1]
        hitch_run(bench, step, travels, legs)
        return replace(done, travels=travels, way="right" if step.on[0] > start else "left")
    _tie_down(bench, step, legs)
    return done


def _tie_down(bench: Bench, step: Tie, legs: tuple[Leg, ...]) -> None:
    """A knot on legs side by side, as often as the step says."""
    for _ in range(step.times):
        taken = _taken(bench, step, [bench.thick(leg) for leg in legs])
        top = max(bench.low[leg] for leg in legs)
        bottom = top + taken.height_mm
        for leg, length in zip(legs, taken.cords_mm, strict=True):
            bench.bring_down(leg, top)
            bench.used[leg] += length
            bench.low[leg] = bottom
        bench.note_span(top, bottom, legs, taken.width_mm, taken.depth_mm)
        legs = tuple(legs[place - 1] for place in step.out) or legs
    bench.knots[step.knot] += step.times


def _taken(bench: Bench, step: Tie, diameters: Sequence[float]) -> part_cord.Taken:
    own = bench.own_knots.get(step.knot)
    if own is None:
        return part_cord.tied(step.knot, diameters)
    return part_cord.tied_own(own.right if step.facing == "right" else own.left, diameters)


def _leave_gap(bench: Bench, step: Gap, done: PartStep) -> PartStep:
    legs = bench.at(step.on) or bench.uncut
    if not legs:
        return replace(done, kind="gap", length_mm=step.gap_mm)
    bottom = max(bench.low[leg] for leg in legs) + step.gap_mm
    for leg in legs:
        bench.bring_down(leg, bottom)
    return replace(done, kind="gap", on=step.on, legs=legs, length_mm=step.gap_mm)


def _cross(bench: Bench, step: Cross, done: PartStep) -> PartStep:
    legs = bench.at((step.front, step.back))
    thick = max(bench.thick(leg) for leg in legs)
    top = max(bench.low[leg] for leg in legs)
    for leg in legs:
        bench.bring_down(leg, top)
        bench.used[leg] += math.hypot(PITCH * thick, 2 * thick)
        bench.low[leg] = top + 2 * thick
    return replace(done, kind="cross", on=(step.front, step.back), legs=legs)


def _gather(bench: Bench, step: Gather, done: PartStep) -> PartStep:
    return replace(done, kind="gather", on=step.on, legs=bench.at(step.on))


def _drop(bench: Bench, step: Drop, done: PartStep) -> PartStep:
    legs = bench.at(step.on)
    return replace(done, kind="drop", on=step.on, legs=legs)


def _add(bench: Bench, step: Add, done: PartStep) -> PartStep:
    cord = NewCord(step.colour, step.lay, None, "", done.number)
    bench.cords.append(cord)
    thick, number = bench.diameters[step.colour], len(bench.cords)
    level = max(bench.low[leg] for leg in bench.order)
    sides: tuple[Leaving, ...] = ("only",) if step.lay == "single" else ("left", "right")
    legs = tuple(Leg(number, side) for side in sides)
    half = PITCH * thick * len(bench.order) / 2 if step.lay == "across" else thick
    for leg in legs:
        bench.used[leg] = 0.0 if step.lay == "single" else half
        bench.low[leg] = level
    if step.lay == "single":
        cord.fixed_mm = bench.tail_mm
    order = order_after(step, bench.order, legs)
    on = tuple(order.index(leg) + 1 for leg in legs)
    return replace(done, kind="add", on=on, legs=legs, cord=number)


def _wrap(bench: Bench, step: Wrap, done: PartStep) -> PartStep:
    legs = bench.at(step.on)
    thick = bench.diameters[step.colour]
    core = max(bench.thick(leg) for leg in legs)
    bundle = lengths.bundle_diameter(len(legs)) * core
    length = lengths.wrapping_knot(step.turns, bundle, thick)
    fixed = length + 2 * bench.tail_mm
    bench.cords.append(NewCord(step.colour, "single", None, "", done.number, True, fixed))
    top, tall = max(bench.low[leg] for leg in legs), step.turns * thick
    wide = bundle + 2 * thick
    for leg in legs:
        bench.bring_down(leg, top)
        bench.used[leg] += lengths.straight(tall)
        bench.low[leg] = top + tall
    bench.note_span(top, top + tall, legs, wide, wide)
    bench.knots["wrapping-knot"] += 1
    return replace(
        done,
        kind="wrap",
        on=step.on,
        legs=legs,
        knot="wrapping-knot",
        turns=step.turns,
        cord=len(bench.cords),
    )


def _trim(bench: Bench, step: Trim, done: PartStep) -> PartStep:
    legs = bench.at(step.on) or bench.uncut
    bench.tails |= dict.fromkeys(legs, step.trim_mm)
    return replace(done, kind="trim", on=step.on, legs=legs, length_mm=step.trim_mm)


def _glue(bench: Bench, step: Glue, done: PartStep) -> PartStep:
    return replace(done, kind="glue", what=step.what)


def _sew(bench: Bench, step: Sew, done: PartStep) -> PartStep:
    return replace(done, kind="sew", what=step.what)


_DEEDS: Mapping[type, Callable[[Bench, Any, PartStep], PartStep]] = {
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
