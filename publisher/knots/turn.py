"""Turn a knot into its mirror image, its back, or a slanting one."""

from __future__ import annotations

import cmath
import math
import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace

from publisher.knots.curve import Point
from publisher.knots.model import Knot, KnotForm, Stage, Strand, ViewBox, VisibleStretch

Words = Callable[[str], str]
Move = Callable[[Point], Point]
Place = Callable[[complex], complex]
Seen = Callable[[ViewBox], ViewBox]


def mirror_knot(knot: Knot) -> Knot:
    """x becomes -x: every reading is kept, every sign of a crossing changes."""

    def move(point: Point) -> Point:
        return point._replace(x=-point.x, heading=_mirror_heading(point.heading))

    return _turned(knot, move, _swapper([knot.sides]))


def turn_over(knot: Knot) -> Knot:
    """x and z change sign: over and under change places, every sign is kept."""

    def move(point: Point) -> Point:
        return point._replace(x=-point.x, z=-point.z, heading=_mirror_heading(point.heading))

    return _turned(knot, move, _swapper([knot.sides, *knot.faces]))


def _turned(knot: Knot, move: Move, swap: Words) -> Knot:
    numbers = _other_numbers(knot)

    def words(text: str) -> str:
        return _renumbered_words(swap(text), numbers)

    def place(xy: complex) -> complex:
        return complex(-xy.real, xy.imag)

    def form(old: KnotForm) -> KnotForm:
        strands = {name: moved_strand(s, move, place) for name, s in old.strands.items()}
        if knot.kind == "knot":
            return KnotForm(_renumbered(strands), old.view.mirrored())
        return KnotForm(_with_numbers(strands, numbers), old.view.mirrored())

    return replace(
        knot,
        way=words(knot.way),
        intro=words(knot.intro),
        check=words(knot.check),
        titles=tuple(words(title) for title in knot.titles),
        loose=form(knot.loose),
        tight=form(knot.tight) if knot.tight else None,
        stages=tuple(
            moved_stage(stage, move, words, place, ViewBox.mirrored) for stage in knot.stages
        ),
        cords_in=knot.cords_in[::-1],
        cords_out=knot.cords_out[::-1],
    )


def _renumbered(strands: dict[str, Strand]) -> dict[str, Strand]:
    """Hanging fillers that are alike keep their names, but their numbers go up from the left again.

    Words that say what is done with all of them stay as they are.
    """
    fillers = [strand for strand in strands.values() if strand.role == "filler"]
    if len({strand.points[0].x for strand in fillers}) < 2:
        return strands
    labels = [strand.label for strand in fillers]
    for strand, label in zip(fillers, reversed(labels), strict=True):
        strands[strand.name] = replace(strand, label=label)
    return strands


def _other_numbers(knot: Knot) -> Mapping[str, str]:
    """The number that each numbered cord of a procedure has from the other side: cords are counted
    from the left in either hand, and a procedure's words speak of each by its number."""
    if knot.kind == "knot":
        return {}
    fillers = [strand for strand in knot.loose.strands.values() if strand.role == "filler"]
    labels = [strand.label for strand in fillers if strand.label.isdecimal()]
    return dict(zip(labels, reversed(labels), strict=True))


def _with_numbers(strands: dict[str, Strand], numbers: Mapping[str, str]) -> dict[str, Strand]:
    return {
        name: replace(strand, label=numbers.get(strand.label, strand.label))
        for name, strand in strands.items()
    }


def _renumbered_words(text: str, numbers: Mapping[str, str]) -> str:
    return re.sub(r"\b\d+\b", lambda match: numbers.get(match[0], match[0]), text)


def moved_strand(strand: Strand, move: Move, place: Place) -> Strand:
    label_at = None if strand.label_at is None else place(strand.label_at)
    return replace(strand, points=moved_points(strand.points, move), label_at=label_at)


def moved_points(points: Sequence[Point], move: Move) -> tuple[Point, ...]:
    return tuple(move(point) for point in points)


def moved_stage(stage: Stage, move: Move, words: Words, place: Place, seen: Seen) -> Stage:
    """A stage with its points, words, labels and view changed."""

    def moved(shown: VisibleStretch) -> VisibleStretch:
        return replace(
            shown, lead=moved_points(shown.lead, move), tail=moved_points(shown.tail, move)
        )

    shown = stage.shown
    return replace(
        stage,
        words=words(stage.words),
        shown=None if shown is None else {name: moved(part) for name, part in shown.items()},
        labels={name: None if at is None else place(at) for name, at in stage.labels.items()},
        view=stage.view and seen(stage.view),
    )


def _mirror_heading(heading: float | None) -> float | None:
    return None if heading is None else (180 - heading) % 360


def _swapper(pairs: Sequence[tuple[str, ...]]) -> Words:
    """Words with the members of each pair changed for each other, capitals kept."""
    other = {}
    for one, two in filter(None, pairs):
        other[one], other[two] = two, one
    if not other:
        return lambda text: text
    longest_first = sorted(other, key=len, reverse=True)
    pattern = re.compile(r"\b(?:" + "|".join(map(re.escape, longest_first)) + r")\b", re.I)

    def swap(match: re.Match[str]) -> str:
        word = other[match[0].lower()]
        return word[0].upper() + word[1:] if match[0][0].isupper() else word

    return lambda text: pattern.sub(swap, text)


def slanted(knot: Knot, slope: float) -> Knot:
    """The knot with its across going down by `slope` for every 1 to the right; uprights stay."""

    def move(point: Point) -> Point:
        return point._replace(y=point.y + slope * point.x, heading=_slant(point.heading, slope))

    def place(xy: complex) -> complex:
        return xy + 1j * slope * xy.real

    def seen(view: ViewBox) -> ViewBox:
        reach = abs(slope) * max(-view.left, view.right)
        return ViewBox(view.left, view.top - reach, view.right, view.bottom + reach)

    def form(old: KnotForm) -> KnotForm:
        strands = {name: moved_strand(s, move, place) for name, s in old.strands.items()}
        return KnotForm(strands, seen(old.view))

    return replace(
        knot,
        loose=form(knot.loose),
        tight=form(knot.tight) if knot.tight else None,
        stages=tuple(moved_stage(s, move, lambda text: text, place, seen) for s in knot.stages),
    )


def _slant(heading: float | None, slope: float) -> float | None:
    if heading is None:
        return None
    way = cmath.rect(1, math.radians(heading))
    return math.degrees(cmath.phase(way + 1j * slope * way.real))
