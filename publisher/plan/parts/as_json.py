"""Write parts and assembly as the stable keys of `plan.json`."""

from __future__ import annotations

from typing import Any

from publisher.model.part_plan import AssemblyPlan, Leg, PartCordPlan, PartStep, StepsPlan

Json = dict[str, Any]


def part_as_json(part: StepsPlan) -> Json:
    """A part: its cords, and its steps with who lies where before and after each."""
    return {
        "id": part.id,
        "kind": part.kind,
        "make": part.make,
        "size_mm": {
            "width": _mm(part.width_mm),
            "height": _mm(part.height_mm),
            "depth": _mm(part.depth_mm),
        },
        "ends_mm": _mm(part.ends_mm),
        "knots": dict(part.knots),
        "cords": [_cord(cord) for cord in part.cords],
        "order": [_leg(leg) for leg in part.order],
        "steps": [_step(step) for step in part.steps],
        "repeats": [
            {"first": repeat.first, "last": repeat.last, "times": repeat.times}
            for repeat in part.repeats
        ],
        "seconds": part.seconds,
    }


def assembly_as_json(step: AssemblyPlan) -> Json:
    """A step of putting pieces together, with its place where it has one."""
    found: Json = {"number": step.number, "do": step.deed, "piece": step.piece, "count": step.count}
    place = step.placement
    if place:
        found["mark"] = place.mark
        found["at"] = {"piece": place.piece, "row": place.row, "cord": place.cord}
        found["turn_degrees"] = place.turn_degrees
        found["tails_between"] = [list(pair) for pair in place.between or ()]
    return found


def _mm(value: float) -> float:
    return round(value, 3)


def _cord(cord: PartCordPlan) -> Json:
    return {
        "cord": cord.number,
        "colour": cord.colour,
        "lay": cord.lay,
        "on": cord.on,
        "knot": cord.knot or None,
        "step": cord.step,
        "wraps": cord.wraps,
        "used_mm": _mm(cord.used_mm),
        "length_mm": _mm(cord.cut_mm),
        "legs": [
            {
                "side": leg.leg.side,
                "used_mm": _mm(leg.used_mm),
                "tail_mm": _mm(leg.tail_mm),
                "length_mm": _mm(leg.cut_mm),
            }
            for leg in cord.legs
        ],
    }


def _leg(leg: Leg) -> Json:
    return {"cord": leg.cord, "side": leg.side}


def _step(step: PartStep) -> Json:
    found: Json = {"step": step.number, "do": step.kind}
    if step.on:
        found["on"] = list(step.on)
    if step.knot:
        found["knot"] = step.knot
    for key in ("leader", "worker", "cord"):
        if getattr(step, key) is not None:
            found[key] = getattr(step, key)
    if step.kind == "tie":
        found["times"] = step.times
    if step.kind in ("gap", "trim"):
        found["length_mm"] = _mm(step.length_mm)
    if step.turns:
        found["turns"] = step.turns
    if step.what:
        found["what"] = step.what
    found["after"] = [_leg(leg) for leg in step.after]
    return found
