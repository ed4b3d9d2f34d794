"""Work a run of double half hitches: one leg travels from cord to cord."""

from __future__ import annotations

import math

from publisher.knots import lengths
from publisher.knots.measures import Hitch
from publisher.model.part_plan import Leg
from publisher.model.parts import Tie
from publisher.plan.parts.mounting import PITCH, PartInWork


def hitch_run(work: PartInWork, step: Tie, travels: Leg, hung: tuple[Leg, ...]) -> None:
    """Hitches of `travels` and each of the hanging legs in turn; the order of legs stays."""
    if step.leader is not None:
        _lead(work, step, travels, hung)
    else:
        _go_round(work, step, travels, hung)
    work.knots[step.knot] += len(hung)


def _lead(work: PartInWork, step: Tie, leader: Leg, hung: tuple[Leg, ...]) -> None:
    """Each leg is hitched round the leader; gathered, it goes on inside, along with it."""
    hitch, rule = work.library[step.knot].formula(Hitch), work.tying(step.knot)
    slope = math.radians(rule.slope_degrees)
    core, level = [leader], work.low[leader]
    for index, leg in enumerate(hung):
        thick = work.thick(leg)
        along = hitch.height * thick
        across = along * math.cos(slope) if index else PITCH * thick
        top = max(level + (along * math.sin(slope) if index else 0.0), work.low[leg])
        way = max(lengths.straight(along), math.hypot(across, top - level))
        core_mm = max(work.thick(inner) for inner in core)
        tall = _across(hitch, len(core), core_mm, thick)
        work.bring_down(leg, top)
        work.used[leg] += hitch.in_a_row(len(core), core_mm, thick)
        work.low[leg] = top + tall
        for inner in core:
            work.used[inner] += way
            work.low[inner] = top + tall
        work.note_span(top, top + tall, [leg], along, tall)
        level = top
        if rule.gathers:
            core.append(leg)


def _across(hitch: Hitch, core: int, core_mm: float, working_mm: float) -> float:
    """Return how thick a row of hitches is, across its leader."""
    return hitch.width_mm(1, lengths.bundle_diameter(core) * core_mm, working_mm)


def _go_round(work: PartInWork, step: Tie, worker: Leg, hung: tuple[Leg, ...]) -> None:
    """The worker goes from leg to leg and hitches round each."""
    hitch = work.library[step.knot].formula(Hitch)
    thick = work.thick(worker)
    top = max(work.low[leg] for leg in (worker, *hung))
    bottom = top + hitch.height * thick
    work.bring_down(worker, top)
    for leg in hung:
        core_mm = work.thick(leg)
        work.bring_down(leg, top)
        work.used[worker] += hitch.in_a_row(1, core_mm, thick)
        work.used[leg] += lengths.straight(bottom - top)
        work.low[leg] = bottom
        wide = _across(hitch, 1, core_mm, thick)
        work.note_span(top, bottom, [leg], wide, hitch.depth * thick)
    work.low[worker] = bottom
