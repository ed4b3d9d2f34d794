"""Turn a knot into its mirror image, its back, or the same knot round more or fewer cords."""

from __future__ import annotations

import cmath
import math
import re
from collections.abc import Callable, Sequence
from dataclasses import replace

from publisher.knots.curve import Point
from publisher.knots.model import Box, Form, Knot, Shown, Stage, Strand

Words = Callable[[str], str]
Move = Callable[[Point], Point]
Place = Callable[[complex], complex]


def mirrored(knot: Knot) -> Knot:
    """x becomes -x: every reading is kept, every sign of a crossing changes."""

    def move(point: Point) -> Point:
        return replace(point, x=-point.x, heading=_mirror_heading(point.heading))

    return _turned(knot, move, _swapper([knot.sides]))


def turned_over(knot: Knot) -> Knot:
    """x and z change sign: over and under change places, every sign is kept."""

    def move(point: Point) -> Point:
        return replace(point, x=-point.x, z=-point.z, heading=_mirror_heading(point.heading))

    return _turned(knot, move, _swapper([knot.sides, *knot.faces]))


def with_fillers(knot: Knot, count: int) -> Knot:
    """Spread or close the picture sideways so that `count` (1 to 4) fillers fit in the middle."""
    present = [s for s in knot.loose.strands.values() if s.role == "filler"]
    if not present or len(present) == count:
        return knot
    if not 1 <= count <= 4:
        raise ValueError(f"a knot is drawn round 1 to 4 fillers, not {count}")
    shift = (count - len(present)) * present[0].diameter / 2
    words = _filler_words(present, count)
    return replace(
        knot,
        loose=_refilled(knot.loose, count, shift),
        tight=_refilled(knot.tight, count, shift) if knot.tight else None,
        intro=words(knot.intro),
        check=words(knot.check),
        stages=tuple(
            _refilled_stage(
                _moved_stage(stage, lambda p: _spread(p, shift), words, lambda xy: xy),
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
    labels = {
        name: at for name, at in stage.labels.items() if name not in before or name in shown
    }
    return replace(stage, shown=shown, labels=labels)


def _turned(knot: Knot, move: Move, words: Words) -> Knot:
    def place(xy: complex) -> complex:
        return complex(-xy.real, xy.imag)

    return replace(
        knot,
        way=words(knot.way),
        intro=words(knot.intro),
        check=words(knot.check),
        titles=tuple(words(title) for title in knot.titles),
        loose=_moved_form(knot.loose, move, place),
        tight=_moved_form(knot.tight, move, place) if knot.tight else None,
        stages=tuple(_moved_stage(stage, move, words, place) for stage in knot.stages),
    )


def _moved_form(form: Form, move: Move, place: Place) -> Form:
    view = form.view
    strands = {name: _moved_strand(strand, move, place) for name, strand in form.strands.items()}
    return Form(_relabelled(strands), Box(-view.right, view.top, -view.left, view.bottom))


def _relabelled(strands: dict[str, Strand]) -> dict[str, Strand]:
    """Fillers keep their names, but their numbers go up from the left again."""
    fillers = [strand for strand in strands.values() if strand.role == "filler"]
    labels = [strand.label for strand in fillers]
    for strand, label in zip(fillers, reversed(labels), strict=True):
        strands[strand.name] = replace(strand, label=label)
    return strands


def _moved_strand(strand: Strand, move: Move, place: Place) -> Strand:
    label_at = None if strand.label_at is None else place(strand.label_at)
    return replace(strand, points=_moved_points(strand.points, move), label_at=label_at)


def _moved_points(points: Sequence[Point], move: Move) -> tuple[Point, ...]:
    return tuple(move(point) for point in points)


def _moved_stage(stage: Stage, move: Move, words: Words, place: Place) -> Stage:
    def moved(shown: Shown) -> Shown:
        return replace(
            shown, lead=_moved_points(shown.lead, move), tail=_moved_points(shown.tail, move)
        )

    shown = stage.shown
    return Stage(
        words(stage.words),
        None if shown is None else {name: moved(part) for name, part in shown.items()},
        {name: None if at is None else place(at) for name, at in stage.labels.items()},
    )


def _mirror_heading(heading: float | None) -> float | None:
    return None if heading is None else (180 - heading) % 360


def _swapper(pairs: Sequence[tuple[str, str]]) -> Words:
    """Words with the members of each pair changed for each other, capitals kept."""
    other = {}
    for one, two in pairs:
        other[one], other[two] = two, one
    longest_first = sorted(other, key=len, reverse=True)
    pattern = re.compile(r"\b(?:" + "|".join(map(re.escape, longest_first)) + r")\b", re.I)

    def swap(match: re.Match[str]) -> str:
        word = other[match[0].lower()]
        return word[0].upper() + word[1:] if match[0][0].isupper() else word

    return lambda text: pattern.sub(swap, text)


def _spread(point: Point, shift: float) -> Point:
    """Move the two halves apart by `shift` each; what lies within 1 of the middle stretches."""
    return replace(point, x=_apart(point.xy, shift).real)


def _apart(xy: complex, shift: float) -> complex:
    return xy + shift * max(-1.0, min(1.0, xy.real))


def _refilled(form: Form, count: int, shift: float) -> Form:
    strands: dict[str, Strand] = {}
    for name, strand in form.strands.items():
        if strand.role != "filler":
            strands[name] = _moved_strand(
                strand, lambda p: _spread(p, shift), lambda xy: _apart(xy, shift)
            )
        elif not any(s.role == "filler" for s in strands.values()):
            strands |= _fillers(form, strand, count)
    view = form.view
    return Form(strands, Box(view.left - shift, view.top, view.right + shift, view.bottom))


def _fillers(form: Form, first: Strand, count: int) -> dict[str, Strand]:
    """`count` copies of the first filler side by side about the middle, numbered from the left."""
    made = {}
    for k in range(count):
        x = (k - (count - 1) / 2) * first.diameter
        shift = x - first.points[0].x
        points = tuple(replace(p, x=p.x + shift) for p in first.points)
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


def slanted(knot: Knot, slope: float) -> Knot:
    """The knot with its across going down by `slope` for every 1 to the right; uprights stay."""

    def move(point: Point) -> Point:
        return replace(point, y=point.y + slope * point.x, heading=_slant(point.heading, slope))

    def place(xy: complex) -> complex:
        return xy + 1j * slope * xy.real

    def form(old: Form) -> Form:
        view = old.view
        reach = abs(slope) * max(-view.left, view.right)
        strands = {name: _moved_strand(s, move, place) for name, s in old.strands.items()}
        return Form(strands, Box(view.left, view.top - reach, view.right, view.bottom + reach))

    return replace(
        knot,
        loose=form(knot.loose),
        tight=form(knot.tight) if knot.tight else None,
        stages=tuple(_moved_stage(s, move, lambda text: text, place) for s in knot.stages),
    )


def _slant(heading: float | None, slope: float) -> float | None:
    if heading is None:
        return None
    way = cmath.rect(1, math.radians(heading))
    return math.degrees(cmath.phase(way + 1j * slope * way.real))
