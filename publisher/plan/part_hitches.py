"""Work a run of double half hitches: one leg travels from cord to cord."""

from __future__ import annotations

import math

from publisher.knots import lengths
from publisher.plan import part_cord
from publisher.plan.part_bench import PITCH, Bench
from publisher.plan.part_values import Leg
from publisher.source.parts import Tie


def hitch_run(bench: Bench, step: Tie, travels: Leg, hung: tuple[Leg, ...]) -> None:
    """Hitches of `travels` and each of the hanging legs in turn; the order of legs stays."""
    if step.leader is not None:
        _lead(bench, step, travels, hung)
    else:
        _go_round(bench, travels, hung)
    bench.knots[step.knot] += len(hung)


def _lead(bench: Bench, step: Tie, leader: Leg, hung: tuple[Leg, ...]) -> None:
    """Each leg is hitched round the leader; gathered, it goes on inside, along with it."""
    slope = 0.0 if step.knot == "horizontal-double-half-hitch" else part_cord.SLOPE
    core, level = [leader], bench.low[leader]
    for index, leg in enumerate(hung):
        thick = bench.thick(leg)
        along = part_cord.HITCH_STEP * thick
        across = along * math.cos(slope) if index else PITCH * thick
        top = max(level + (along * math.sin(slope) if index else 0.0), bench.low[leg])
        way = max(lengths.straight(along), math.hypot(across, top - level))
        core_mm = max(bench.thick(inner) for inner in core)
        tall = part_cord.hitch_height(len(core), core_mm, thick)
        bench.bring_down(leg, top)
        bench.used[leg] += lengths.row_hitch(len(core), core_mm, thick)
        bench.low[leg] = top + tall
        for inner in core:
            bench.used[inner] += way
            bench.low[inner] = top + tall
        bench.note_span(top, top + tall, [leg], along, tall)
        level = top
        if step.knot == "gathering-double-half-hitch":
            core.append(leg)


def _go_round(bench: Bench, worker: Leg, hung: tuple[Leg, ...]) -> None:
    """The worker goes from leg to leg and hitches round each."""
    thick = bench.thick(worker)
    top = max(bench.low[leg] for leg in (worker, *hung))
    bottom = top + part_cord.HITCH_STEP * thick
    bench.bring_down(worker, top)
    for leg in hung:
        core_mm = bench.thick(leg)
        bench.bring_down(leg, top)
        bench.used[worker] += lengths.row_hitch(1, core_mm, thick)
        bench.used[leg] += lengths.straight(bottom - top)
        bench.low[leg] = bottom
        wide = part_cord.hitch_height(1, core_mm, thick)
        bench.note_span(top, bottom, [leg], wide, 4 * thick)
    bench.low[worker] = bottom
