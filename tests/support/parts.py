"""Parts for tests: the leaf, patterns around parts, and random steps that can be worked."""

from __future__ import annotations

import dataclasses

from hypothesis import strategies as st

from publisher.errors import Place
from publisher.knots import load_knots
from publisher.knots.tying import Tying
from publisher.model.parts import (
    Add,
    AssemblyStep,
    Bar,
    Cross,
    Drop,
    Gap,
    Gather,
    Glue,
    PartCord,
    Repeat,
    Step,
    StepsPiece,
    Tie,
    Trim,
    Wrap,
)
from publisher.model.pattern import Pattern
from publisher.model.plan import Plan
from publisher.plan import make_plan
from publisher.source.follow import MOST_ENDS, ends_after, ends_at_first
from tests.support.shop import demo

COLOURS = "GOM"
RULES = {name: knot.tying for name, knot in load_knots().items() if knot.tying}
"""Of our knots that steps can tie."""
LEAF_CORDS = (PartCord("G", "across"), *[PartCord("G", "folded", 1, "larks-head")] * 4)
LEAF_STEPS: tuple[Step, ...] = (
    *(
        Tie(knot="diagonal-double-half-hitch", leader=leader, on=on)
        for _ in range(2)
        for leader, on in ((1, (2, 3, 4, 5)), (10, (9, 8, 7, 6)))
    ),
    Tie(knot="square-knot", on=(4, 5, 6, 7)),
    Trim(trim_mm=15, on=(1, 2, 3, 4, 7, 8, 9, 10)),
)


def tying(knot: str) -> Tying:
    """The rule of one of our knots."""
    return RULES[knot]


def part(
    cords: tuple[PartCord, ...] = LEAF_CORDS,
    steps: tuple[Step, ...] = LEAF_STEPS,
    make: int = 4,
    tail_mm: float = 120.0,
    seconds: float | None = None,
) -> StepsPiece:
    """A piece of steps; cords folded over nothing hang on a ring."""
    bar = Bar("ring", 3.0)
    return StepsPiece("reed-leaf", make, bar, cords, steps, tail_mm, 10.0, seconds, Place("x"))


def pattern_of(*parts: StepsPiece) -> Pattern:
    """A pattern of parts alone, in the kingfisher's colours: G, O, M and more, 3 mm thick."""
    base = demo("kingfisher-over-reeds")
    return dataclasses.replace(base, pieces=parts, assembly=())


@st.composite
def cord_lists(draw: st.DrawFn) -> tuple[PartCord, ...]:
    """One to four cords; some are mounted on the one laid across before them."""
    cords: list[PartCord] = []
    across: int | None = None
    for _ in range(draw(st.integers(1, 4))):
        colour = draw(st.sampled_from(COLOURS))
        lay = draw(st.sampled_from(["across", "folded", "single"]))
        if lay == "folded":
            on = across if draw(st.booleans()) else None
            cords.append(PartCord(colour, "folded", on, "larks-head"))
        else:
            cords.append(PartCord(colour, "across" if lay == "across" else "single"))
            across = len(cords) if lay == "across" else across
    return tuple(cords)


@st.composite
def plain_steps(draw: st.DrawFn, count: int) -> Step:
    """A step that can be worked on so many cords."""
    kind = draw(st.sampled_from(_KINDS))
    start = draw(st.integers(1, count))
    most = draw(st.integers(start, count))
    row = tuple(range(start, most + 1))
    if kind == "tie":
        return draw(_ties(count))
    if kind == "cross" and count > 1:
        left = draw(st.integers(1, count - 1))
        front, back = draw(st.permutations([left, left + 1]))
        return Cross(front=front, back=back)
    if kind == "drop" and len(row) < count:
        return Drop(on=row)
    if kind == "add" and count + 2 <= MOST_ENDS:
        lay = draw(st.sampled_from(["across", "folded", "single"]))
        return Add(
            colour=draw(st.sampled_from(COLOURS)), lay=lay, at=draw(st.integers(1, count + 1))
        )
    if kind == "gather":
        return Gather(on=row)
    if kind == "wrap":
        return Wrap(on=row, turns=draw(st.integers(2, 12)), colour="O")
    if kind == "trim":
        return Trim(trim_mm=draw(st.floats(0, 60)), on=row if draw(st.booleans()) else ())
    if kind == "glue":
        return Glue(what="the ends")
    return Gap(gap_mm=draw(st.floats(0.5, 60)), on=row if draw(st.booleans()) else ())


_KINDS = (
    "tie",
    "tie",
    "tie",
    "tie",
    "gap",
    "cross",
    "gather",
    "drop",
    "add",
    "wrap",
    "trim",
    "glue",
)


@st.composite
def _ties(draw: st.DrawFn, count: int) -> Step:
    names = [name for name, rule in RULES.items() if rule.least + bool(rule.travels) <= count]
    name = draw(st.sampled_from(names))
    rule = RULES[name]
    if rule.travels:
        start = draw(st.integers(1, count))
        right, left = count - start, start - 1
        way = 1 if right and (not left or draw(st.booleans())) else -1
        reach = draw(st.integers(1, min(right if way > 0 else left, rule.most)))
        on = tuple(start + way * step for step in range(1, reach + 1))
        return Tie(knot=name, on=on, **{rule.travels: start})
    size = draw(st.integers(rule.least, min(rule.most, count)))
    first = draw(st.integers(1, count - size + 1))
    facing = draw(st.sampled_from(["left", "right"])) if rule.faces else "left"
    times = draw(st.integers(1, 6))
    return Tie(knot=name, on=tuple(range(first, first + size)), facing=facing, times=times)


@st.composite
def parts(draw: st.DrawFn, most: int = 8) -> StepsPiece:
    """A part whose steps can all be worked, some of them repeated."""
    cords = draw(cord_lists())
    count = ends_at_first(cords)
    steps: list[Step] = []
    for _ in range(draw(st.integers(1, most))):
        step = draw(plain_steps(count))
        again = ends_after(step, count) == count and not isinstance(step, Trim)
        if again and draw(st.integers(0, 5)) == 0:
            step = Repeat(times=draw(st.integers(2, 3)), steps=(step,))
        steps.append(step)
        count = ends_after(step, count)
        if isinstance(step, Trim):
            break  # a trimmed cord is not used again
    return part(cords, tuple(steps), make=draw(st.integers(1, 3)))


def plan_with(piece: StepsPiece, *deeds: str) -> Plan:
    """The plan of a pattern with this piece, to which each deed is done once."""
    assembly = tuple(
        AssemblyStep(deed, piece.id, 1, None, 0.0, "tails", "")  # type: ignore[arg-type]
        for deed in deeds
    )
    return make_plan(dataclasses.replace(pattern_of(piece), assembly=assembly))


def strap(gap_mm: float) -> StepsPiece:
    """A part of two knots that hang so far apart."""
    knot = Tie(knot="square-knot", on=(2, 3, 4, 5))
    return part(steps=(knot, Gap(gap_mm=gap_mm), knot, Trim(trim_mm=0)), make=1)
