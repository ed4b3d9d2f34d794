"""Every knot that steps tie, on cords of every lay, placed or not, trimmed or not: planned, drawn
and printed, even where a knot takes every cord that there is."""

from __future__ import annotations

import dataclasses
from functools import cache
from itertools import product

import pypdfium2
import pytest

from publisher import publish
from publisher.drawing import draw_hanging, draw_part, draw_part_steps, place_parts
from publisher.errors import Place
from publisher.knots import load_knots
from publisher.knots.defaults import defaults
from publisher.model.parts import (
    AssemblyStep,
    Bar,
    Hold,
    Lay,
    PartCord,
    PartPlace,
    Step,
    StepsPiece,
    Tie,
    Trim,
    Wrap,
)
from publisher.model.pattern import Pattern
from publisher.model.plan import Plan
from publisher.plan import make_plan
from tests.support.charts import look
from tests.support.parts import RULES
from tests.support.shop import demo

LIBRARY = load_knots()
KNOTS = LIBRARY.__getitem__
LAYS: tuple[Lay, ...] = ("single", "folded", "across")
WRAP = defaults().wrap
TIED = (*RULES, WRAP)
LINES = ((4, 39.0), (3, 54.0), (2, 84.0), (1, 174.0))


def cords(lay: Lay, count: int) -> tuple[PartCord, ...]:
    """As few cords of a lay as hang so many ends."""
    folded = PartCord("G", "folded", None, "larks-head")
    if lay == "single":
        return (PartCord("G", "single"),) * count
    if lay == "folded":
        return (folded,) * -(-count // 2)
    inner = max(0, -(-(count - 2) // 2))
    return (PartCord("G", "across"), *[dataclasses.replace(folded, on=1)] * inner)


def steps(knot: str, *, trimmed: bool) -> tuple[Step, ...]:
    """The knot five times, or a run of hitches once, and nothing else."""
    tied: Step
    if knot == WRAP:
        tied = Wrap(on=(1, 2), turns=5, colour="O")
    else:
        rule = RULES[knot]
        on = tuple(range(1 + bool(rule.travels), 1 + bool(rule.travels) + rule.least))
        run = {rule.travels: 1} if rule.travels else {"times": 5}
        tied = Tie(knot=knot, on=on, **run)
    return (tied, Trim(trim_mm=10)) if trimmed else (tied,)


def ends_needed(knot: str) -> int:
    rule = RULES.get(knot)
    return 2 if rule is None else rule.least + bool(rule.travels)


@cache
def patterns(lay: Lay) -> tuple[Pattern, ...]:
    """A part for every knot: trimmed or not, each sewn on a chart by its tails or its top, and
    each by itself."""
    base = demo("heron-step")
    chart = dataclasses.replace(base.charts[0], make=1)
    colour = dataclasses.replace(base.colours[0], letter="G", name="test green")
    other = dataclasses.replace(base.colours[0], letter="O", name="test red")
    pieces, assembly = [], []
    holds: tuple[Hold, Hold] = "tails", "top"
    for knot, trimmed in product(TIED, (False, True)):
        name = f"{knot}-{'cut' if trimmed else 'long'}"
        ends = cords(lay, ends_needed(knot))
        worked = steps(knot, trimmed=trimmed)
        pieces.append(
            StepsPiece(name, 2, Bar("ring", 3.0), ends, worked, 100.0, 10.0, None, Place("x"))
        )
        for index, hold in enumerate(holds):
            at = PartPlace(chart.id, 1 + index * (chart.rows - 1), chart.columns if trimmed else 1)
            assembly.append(AssemblyStep("sew", name, 1, at, 30.0, hold, ""))
    placed = dataclasses.replace(
        base,
        colours=(*base.colours, colour, other),
        pieces=(chart, *pieces),
        assembly=tuple(assembly),
    )
    alone = dataclasses.replace(placed, pieces=tuple(pieces), assembly=())
    return placed, alone


@cache
def planned(lay: Lay) -> Plan:
    return make_plan(patterns(lay)[0])


@pytest.mark.parametrize("lay", LAYS)
@pytest.mark.parametrize("knot", TIED)
def test_a_part_of_one_knot_is_drawn(knot: str, lay: Lay) -> None:
    plan = planned(lay)
    for ending in ("long", "cut"):
        part = next(part for part in plan.parts if part.id == f"{knot}-{ending}")
        shown = draw_part_steps(part, plan.colours, KNOTS, look(), LINES, 80.0, 54.0)
        assert [number for figure in shown for number in figure.numbers][:2] == [0, 1]
        for figure in (
            *(one.figure for one in shown),
            draw_part(part, plan.colours, KNOTS, look(), 50.0, 50.0),
        ):
            assert "<path" in figure.svg
            assert "nan" not in figure.svg


@pytest.mark.parametrize("lay", LAYS)
def test_all_of_them_are_drawn_on_a_chart(lay: Lay) -> None:
    plan = planned(lay)
    chart = plan.charts[0]
    placed = place_parts(plan, chart.id, KNOTS)
    assert len(placed) == 4 * len(TIED)
    bare = draw_hanging(chart, plan.colours, look(), 100.0, 150.0)
    full = draw_hanging(chart, plan.colours, look(), 100.0, 150.0, placed, 7.0)
    assert full.svg.count("<path") > bare.svg.count("<path") + len(placed)


@pytest.mark.parametrize("lay", LAYS)
@pytest.mark.parametrize("kind", ["placed", "alone"])
def test_all_of_them_are_printed(lay: Lay, kind: str) -> None:
    pattern = patterns(lay)[kind == "alone"]
    plan = planned(lay) if kind == "placed" else make_plan(pattern)
    document = pypdfium2.PdfDocument(publish(pattern, plan))
    text = " ".join(page.get_textpage().get_text_range() for page in document).replace("\r\n", " ")
    for knot in TIED:
        assert LIBRARY[knot].title in text
        assert f"{knot.replace('-', ' ').capitalize()} cut" in text
