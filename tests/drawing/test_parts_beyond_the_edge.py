"""Parts that stand out beyond their piece stay inside its picture, and count in its size."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest

from publisher.drawing import draw_hanging, place_parts
from publisher.knots import load_knots
from publisher.model.parts import AssemblyStep, Gap, Hold, PartCord, PartPlace, Tie, Trim
from publisher.model.plan import Plan
from publisher.model.reach import finished_size
from publisher.plan import make_plan
from publisher.press import page_pictures, print_book
from tests.support.charts import look
from tests.support.parts import part
from tests.support.shop import demo
from tests.support.svg_books import book

KNOTS = load_knots().__getitem__
ROOM = 90.0, 120.0
MARGIN = 60.0
ROPE = (PartCord("G", "folded", None, "larks-head"),) * 2
STEPS = (Tie(knot="square-knot", on=(1, 2, 3, 4), times=12), Gap(gap_mm=60), Trim(trim_mm=30))


def plan_with(row: int, cord: int, turn: float, hold: Hold, trimmed: bool = True) -> Plan:
    """A small chart with a long part on it."""
    base = demo("heron-step")
    chart = dataclasses.replace(
        base.charts[0], cells=tuple(line[:24] for line in base.charts[0].cells[:20])
    )
    rope = part(ROPE, STEPS if trimmed else STEPS[:1], make=1)
    green = dataclasses.replace(base.colours[0], letter="G", name="test green")
    sewn = AssemblyStep("sew", rope.id, 1, PartPlace(chart.id, row, cord), turn, hold, "")
    colours = (*(one for one in base.colours if one.letter != "G"), green)
    pattern = dataclasses.replace(base, pieces=(chart, rope), colours=colours, assembly=(sewn,))
    return make_plan(pattern)


PLACES = [
    pytest.param(row, cord, turn, hold, id=f"{side}-{hold}")
    for hold in ("tails", "top")
    for side, row, cord, turn in (
        ("over", 1, 12, 0.0 if hold == "tails" else 180.0),
        ("right", 10, 24, 90.0 if hold == "tails" else -90.0),
        ("left", 10, 1, -90.0 if hold == "tails" else 90.0),
        ("below", 20, 12, 180.0 if hold == "tails" else 0.0),
        ("corner", 1, 1, -45.0 if hold == "tails" else 135.0),
    )
]


@pytest.mark.parametrize(("row", "cord", "turn", "hold"), PLACES)
def test_nothing_is_painted_outside_the_picture(
    row: int, cord: int, turn: float, hold: Hold
) -> None:
    """The figure stands in the middle of an empty page, which shows what leaves its box."""
    plan = plan_with(row, cord, turn, hold)
    chart = plan.charts[0]
    placed = place_parts(plan, chart.id, KNOTS)
    figure = draw_hanging(chart, plan.colours, look(), *ROOM, placed, 7.5)
    assert figure.width_mm <= ROOM[0] + 1e-6 and figure.height_mm <= ROOM[1] + 1e-6
    inside = f'<g transform="translate({MARGIN:g} {MARGIN:g})">{figure.svg}</g>'
    drawn = f'<g data-tag="Figure" data-alt="a figure">{inside}</g>'
    wide, tall = figure.width_mm + 2 * MARGIN, figure.height_mm + 2 * MARGIN
    (picture,) = page_pictures(print_book(book(drawn, width_mm=wide, height_mm=tall)), 100.0)
    painted = np.argwhere(np.asarray(picture.convert("L")) < 250) / (100.0 / 25.4)
    top, left = painted.min(axis=0)
    bottom, right = painted.max(axis=0)
    slack = 0.6
    assert top >= MARGIN - slack and bottom <= MARGIN + figure.height_mm + slack
    assert left >= MARGIN - slack and right <= MARGIN + figure.width_mm + slack


def test_a_part_inside_changes_neither_picture_nor_size() -> None:
    plan = plan_with(18, 12, 0.0, "tails")
    plan = dataclasses.replace(
        plan, pieces=(plan.charts[0], dataclasses.replace(plan.parts[0], height_mm=20.0))
    )
    chart = plan.charts[0]
    alone = draw_hanging(chart, plan.colours, look(), *ROOM)
    full = draw_hanging(chart, plan.colours, look(), *ROOM, place_parts(plan, chart.id, KNOTS), 7.5)
    assert (full.width_mm, full.height_mm) == (alone.width_mm, alone.height_mm)
    assert finished_size(plan, chart) == (chart.width_mm, chart.height_mm + max(chart.fringe_mm))


def test_what_stands_out_counts_in_the_finished_size() -> None:
    """A part that lies level stands out by its length, from the middle of its cell."""
    for turn, cord in ((90.0, 24), (-90.0, 1)):
        plan = plan_with(10, cord, turn, "tails")
        chart, rope = plan.charts[0], plan.parts[0]
        wide, tall = finished_size(plan, chart)
        assert wide == pytest.approx(chart.width_mm - chart.cell.width_mm / 2 + rope.height_mm)
        assert tall == pytest.approx(chart.height_mm + max(chart.fringe_mm))


def test_a_part_that_hangs_by_its_top_counts_with_its_ends() -> None:
    plan = plan_with(20, 12, 0.0, "top", trimmed=False)
    chart, rope = plan.charts[0], plan.parts[0]
    assert rope.ends_mm > 0
    low = chart.height_mm - chart.cell.height_mm / 2 + rope.height_mm + rope.ends_mm
    longest = chart.height_mm + max(chart.fringe_mm)
    assert finished_size(plan, chart)[1] == pytest.approx(max(low, longest))
    assert low > longest
