"""The template of a fringe can be read at every cord, however steep its curve is."""

from __future__ import annotations

import itertools
import re
from typing import NamedTuple

import pytest

from publisher.drawing import draw_fringe_sheets, draw_fringe_template
from publisher.fonts import proportions, text_width_mm
from publisher.fonts.shaping import MM_PER_PT
from publisher.model.figure import Figure
from publisher.model.pattern import Fringe
from publisher.model.plan import ChartPlan
from publisher.model.units import centimetres
from tests.support.charts import look, nodes, plan_of, texts, words

LOOKS = {name: look(name) for name in ("booklet", "ink-saver", "large-print")}
ROUNDING = 0.01
SHAPES = [
    (shape, columns, name)
    for shape in ("arch", "point")
    for columns in (2, 36, 121)
    for name in LOOKS
]


class Told(NamedTuple):
    """A length as it is printed, turned, and the box that it takes."""

    text: str
    left: float
    top: float
    right: float
    bottom: float


def template(shape: str, columns: int, name: str = "booklet") -> tuple[ChartPlan, Figure]:
    plan, _ = plan_of("A" * columns, fringe=Fringe(shape, 180.0, 60.0))  # type: ignore[arg-type]
    lengths = [centimetres(length) for length in plan.fringe_mm]
    figure, _ = draw_fringe_template(plan, lengths, LOOKS[name], 174.0, 78.0, words("fringe"))
    return plan, figure


def told(figure: Figure, name: str = "booklet") -> list[Told]:
    style = LOOKS[name].type["map-number"]
    cap = proportions(style.face).cap_height_em * style.size_pt * MM_PER_PT
    found = []
    for group in nodes(figure):
        for text in group.findall("text") if "rotate" in group.get("transform", "") else ():
            x, y, said = float(text.get("x", 0)), float(text.get("y", 0)), text.text or ""
            up = text_width_mm(said, style.face, style.size_pt)
            found.append(Told(said, x - cap, y - up, x, y))
    return found


def curve(figure: Figure, paint: str) -> list[tuple[float, float]]:
    path = next(node.get("d", "") for node in nodes(figure) if node.get("stroke-linejoin"))
    assert any(node.get("stroke") == paint for node in nodes(figure))
    return [(float(x), float(y)) for x, y in re.findall(r"[ML](\S+?) (\S+?)(?=L|$)", path)]


@pytest.mark.parametrize(("shape", "columns", "name"), SHAPES)
def test_no_length_touches_the_curve(shape: str, columns: int, name: str) -> None:
    _, figure = template(shape, columns, name)
    paint = LOOKS[name].colours["ink" if LOOKS[name].mono else "accent"]
    points = curve(figure, str(paint))
    for (x0, y0), (x1, y1) in itertools.pairwise(points):
        for share in (step / 20 for step in range(21)):
            x, y = x0 + (x1 - x0) * share, y0 + (y1 - y0) * share
            for box in told(figure, name):
                over = box.left < x < box.right and y > box.top - 0.8
                assert not over, box.text


@pytest.mark.parametrize(("shape", "columns", "name"), SHAPES)
def test_no_length_touches_another_and_none_leaves_the_figure(
    shape: str, columns: int, name: str
) -> None:
    _, figure = template(shape, columns, name)
    boxes = told(figure, name)
    assert all(one.right <= other.left for one, other in itertools.pairwise(boxes))
    assert boxes[0].left >= -ROUNDING and boxes[-1].right <= figure.width_mm + ROUNDING
    assert max(box.bottom for box in boxes) <= figure.height_mm


@pytest.mark.parametrize("columns", [36, 120, 121])
@pytest.mark.parametrize(("shape", "at_edges"), [("arch", "18"), ("point", "6")])
def test_the_outermost_cords_and_the_middle_have_their_lengths(
    shape: str, at_edges: str, columns: int
) -> None:
    plan, figure = template(shape, columns)
    boxes = told(figure)
    said = [box.text for box in boxes]
    assert (said[0], said[-1]) == (at_edges, at_edges)
    assert {centimetres(max(plan.fringe_mm)), centimetres(min(plan.fringe_mm))} <= set(said)
    middles = [(box.left + box.right) / 2 for box in boxes]
    points = curve(figure, str(LOOKS["booklet"].colours["accent"]))
    assert middles[0] == pytest.approx(points[0][0], abs=0.02)
    assert middles[-1] == pytest.approx(points[-1][0], abs=0.02)


def test_cords_on_sheets_true_to_size_have_their_own_numbers() -> None:
    """The first and every fifth, as far to the right as they hang: 4.5 cords for the fifth."""
    chart, _ = plan_of("A" * 24, fringe=Fringe("point", 160.0, 60.0))
    look_, pitch = LOOKS["booklet"], chart.cell.width_mm
    (sheet,) = draw_fringe_sheets(chart, 50.0, look_, 170.0, 230.0, words("fringe"))
    found = {said.text: said.x for said in texts(sheet)}
    assert list(found) == ["1", "5", "10"]
    assert found["10"] - found["5"] == pytest.approx(5 * pitch, abs=1.5)
    assert found["5"] == pytest.approx(4.5 * pitch, abs=1.5)


def test_sheets_are_as_deep_as_the_curve_below_their_straight_edge() -> None:
    chart, _ = plan_of("A" * 24, fringe=Fringe("point", 160.0, 60.0))
    sheets = [
        draw_fringe_sheets(chart, edge, LOOKS["booklet"], 170.0, 230.0, words("fringe"))[0]
        for edge in (20.0, 50.0)
    ]
    assert sheets[0].height_mm - sheets[1].height_mm == pytest.approx(30.0)
