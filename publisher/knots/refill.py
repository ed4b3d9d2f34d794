"""Draw a knot round more or fewer filler cords than its file has."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace

from publisher.knots.curve import Point
from publisher.knots.model import Knot, KnotForm, Stage, Strand, ViewBox
from publisher.knots.turn import Words, moved_stage, moved_strand


def with_fillers(knot: Knot, count: int) -> Knot:
    """Spread or close the picture sideways so that `count` (1 to 4) fillers fit in the middle.

    What lies within 1 of the middle stretches, the two sides only move.
    """
    present = [s for s in knot.loose.strands.values() if s.role == "filler"]
    if not knot.fillers_vary or len(present) == count:
        return knot
    if not 1 <= count <= 4:
        raise ValueError(f"a knot is drawn round 1 to 4 fillers, not {count}")
    shift = (count - len(present)) * present[0].diameter / 2

    def apart(xy: complex) -> complex:
        return xy + shift * max(-1.0, min(1.0, xy.real))

    def spread(point: Point) -> Point:
        return Point(apart(point.xy).real, point.y, point.z, point.heading, point.mark)

    def seen(view: ViewBox) -> ViewBox:
        return ViewBox(view.left - shift, view.top, view.right + shift, view.bottom)

    def refilled(form: KnotForm) -> KnotForm:
        strands: dict[str, Strand] = {}
        for name, strand in form.strands.items():
            if strand.role != "filler":
                strands[name] = moved_strand(strand, spread, apart)
            elif strand.name == present[0].name:
                strands |= _fillers(strand, count)
        return KnotForm(strands, seen(form.view))

    words = _filler_words(present, count)
    return replace(
        knot,
        loose=refilled(knot.loose),
        tight=refilled(knot.tight) if knot.tight else None,
        intro=words(knot.intro),
        check=words(knot.check),
        stages=tuple(
            _refilled_stage(
                moved_stage(stage, spread, words, apart, seen),
                [strand.name for strand in present],
                count,
            )
            for stage in knot.stages
        ),
    )


def _refilled_stage(stage: Stage, before: Sequence[str], count: int) -> Stage:
    """A stage that shows as many fillers as there are now, each as the first one was shown."""
    if stage.shown is None:
        return stage
    model = next((stage.shown[name] for name in before if name in stage.shown), None)
    shown = {name: part for name, part in stage.shown.items() if name not in before}
    if model is not None:
        fillers = {f"F{number}": model for number in range(1, count + 1)}
        shown = {**fillers, **shown}
    labels = {name: at for name, at in stage.labels.items() if name not in before or name in shown}
    return replace(stage, shown=shown, labels=labels)


def _fillers(first: Strand, count: int) -> dict[str, Strand]:
    """`count` copies of the first filler side by side about the middle, numbered from the left."""
    made = {}
    for k in range(count):
        x = (k - (count - 1) / 2) * first.diameter
        shift = x - first.points[0].x
        points = tuple(p._replace(x=p.x + shift) for p in first.points)
        label_at = None if first.label_at is None else first.label_at + shift
        made[f"F{k + 1}"] = replace(
            first, name=f"F{k + 1}", points=points, label=str(k + 1), label_at=label_at
        )
    return made


def _filler_words(present: Sequence[Strand], count: int) -> Words:
    """Change the list of the fillers' numbers ("1 and 2") wherever the words name them all."""
    old = _listed(len(present))
    new = _listed(count)
    marked = re.compile(r" and ".join(rf"\*?{k + 1}\*?" for k in range(len(present))))

    def change(text: str) -> str:
        return marked.sub(lambda m: _starred(count) if "*" in m[0] else new, text)

    return change if old != new else lambda text: text


def _listed(count: int) -> str:
    numbers = [str(k + 1) for k in range(count)]
    return " and ".join([", ".join(numbers[:-1]), numbers[-1]] if count > 1 else numbers)


def _starred(count: int) -> str:
    return re.sub(r"(\d+)", r"*\1*", _listed(count))
