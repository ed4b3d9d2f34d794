"""The cover shows the piece that will be made: its colours, its fringe, its proportions."""

from __future__ import annotations

import re
from dataclasses import replace

import numpy as np
import pytest

from publisher.drawing import draw_hanging, place_parts
from publisher.fonts import text_width_mm
from publisher.knots import load_knots
from publisher.model.colour import Colour
from publisher.model.figure import Figure
from publisher.model.parts import Hold
from publisher.model.pattern import Fringe
from publisher.model.reach import middle_mm
from publisher.plan import make_plan
from tests.support.charts import Chart, Shot, chart_of, kingfisher, look, nodes, plan_of, texts
from tests.support.shop import SLUGS, demo

BOOKLET, MONO = look(), look("ink-saver")
ROOM = 129.0, 200.0
BASE_MM = 0.9
"""From the middle of a figure of 7.5 pt down to its base line."""


def hanging(chart: Chart, mono: bool = False) -> Figure:
    return draw_hanging(*chart, MONO if mono else BOOKLET, *ROOM)


def demos() -> list[Chart]:
    return [chart_of(make_plan(demo(slug))) for slug in SLUGS]


def quilt(columns: int, rows: int) -> Chart:
    cells = [
        "".join("ABCDEF"[(x // 7 + y // 9 + (x * y) % 11 // 10) % 6] for x in range(columns))
        for y in range(rows)
    ]
    return plan_of(*cells)


@pytest.mark.parametrize("mono", [False, True])
def test_every_piece_fits_the_room_it_is_given(mono: bool) -> None:
    charts = [*demos(), plan_of("A"), plan_of("AB" * 60), plan_of(*["A"] * 90), quilt(60, 90)]
    for chart in charts:
        figure = hanging(chart, mono)
        assert 0 < figure.width_mm <= ROOM[0] + 1e-6
        assert 0 < figure.height_mm <= ROOM[1] + 1e-6


def test_a_tiny_piece_is_not_drawn_larger_than_it_is() -> None:
    plan, colours = plan_of("A")
    assert hanging((plan, colours)).width_mm <= plan.dowel_length_mm + plan.piece.mount.diameter_mm


@pytest.mark.parametrize("slug", SLUGS)
def test_each_knot_is_most_like_its_own_yarn(slug: str) -> None:
    """Light and shade never turn one yarn of the pattern into another."""
    plan, colours = chart_of(make_plan(demo(slug)))
    left, top, wide, tall, shot = _cloth(plan, colours)
    wrong = 0
    for row, letters in enumerate(plan.cells):
        for column, letter in enumerate(letters):
            x, y = left + column * wide, top + row * tall
            shown = shot.mean(x + 0.12 * wide, y + 0.08 * tall, x + 0.88 * wide, y + 0.92 * tall)
            nearest = min(colours, key=lambda one: _distance(one.srgb, shown))
            wrong += nearest.letter != letter
    assert wrong <= 0.01 * plan.total_knots


def _cloth(plan, colours) -> tuple[float, float, float, float, Shot]:
    """Where the knots are, read from the picture's own grid, and the picture."""
    figure = hanging((plan, colours))
    return *_grid(figure), Shot(figure, 300)


def _grid(figure: Figure) -> tuple[float, float, float, float]:
    """Where the first knot is, and how far it is to the next one and to the next row."""
    grid = next(
        found
        for node in nodes(figure)
        if (
            found := re.match(
                r"translate\((\S+) (\S+)\) scale\((\S+) (\S+)\)", node.get("transform", "")
            )
        )
    )
    left, top, wide, tall = (float(part) for part in grid.groups())
    return left, top, wide, tall


def _distance(one: Colour, other: Colour) -> float:
    """How far two colours are, but for how light they are: shade is not told from yarn."""
    a, b = np.array(one.linear) ** (1 / 3), np.array(other.linear) ** (1 / 3)
    hue = (a - a.mean()) - (b - b.mean())
    return float(np.abs(hue).sum() + 0.5 * abs(a.mean() - b.mean()))


@pytest.mark.parametrize("hold", ["tails", "top"])
@pytest.mark.parametrize("turn", [-150.0, -60.0, -20.0, 20.0, 60.0, 150.0])
def test_the_number_of_a_place_is_on_the_side_that_its_part_leans_away_from(
    turn: float, hold: Hold
) -> None:
    """Left or right, and over or below."""
    pattern = demo("kingfisher-over-reeds")
    sewn = tuple(replace(one, turn_degrees=turn, hold=hold) for one in pattern.assembly)
    plan = make_plan(replace(pattern, assembly=sewn))
    (chart,), colours = plan.charts, plan.colours
    placed = place_parts(plan, chart.id, load_knots().__getitem__)
    figure = draw_hanging(chart, colours, BOOKLET, *ROOM, placed, 7.5)
    left, top, wide, tall = _grid(figure)
    numbers = {said.text: said for said in texts(figure)}
    assert len(placed) == len(numbers) > 4
    for one in placed:
        said, place = numbers[str(one.place.mark)], one.place
        part_left, part_top, part_right, part_bottom = one.box_mm(chart)
        x, y = middle_mm(place, chart)
        middle = said.x + text_width_mm(said.text, "bold", 7.5) / 2
        aside = middle - left - (place.cord - 0.5) * wide
        below = said.y - BASE_MM - top - (place.row - 0.5) * tall
        assert aside * ((part_left + part_right) / 2 - x) < 0
        assert below * ((part_top + part_bottom) / 2 - y) < 0


@pytest.mark.parametrize(
    ("shape", "middle_longest"), [("point", True), ("arch", False), ("straight", None)]
)
def test_the_fringe_hangs_in_its_shape(shape: str, middle_longest: bool | None) -> None:
    fringe = Fringe(shape, 200.0, 200.0 if shape == "straight" else 60.0)  # type: ignore[arg-type]
    chart = plan_of(*["A" * 21] * 10, fringe=fringe)
    tails = _tail_lengths(hanging(chart))
    assert len(tails) == 2 * 21
    edge = (tails[0] + tails[-1]) / 2
    middle = tails[len(tails) // 2]
    if middle_longest is None:
        assert max(tails) - min(tails) < 0.05 * max(tails)
    else:
        assert (middle > 2 * edge) == middle_longest


def _tail_lengths(figure: Figure) -> list[float]:
    """Of each tail of the fringe, from the left."""
    tail = re.compile(r"M(\S+) (\S+)C\S+ \S+ \S+ \S+ \S+ ([\d.]+)")
    paths = (node.get("d", "") for node in nodes(figure) if node.get("stroke"))
    found = next(tails for path in paths if len(tails := tail.findall(path)) > 1)
    return [float(end) - float(start) for _, start, end in sorted(found, key=lambda t: float(t[0]))]


def test_it_hangs_on_as_many_cords_as_the_plan_cuts() -> None:
    for strands in (1, 2):
        from publisher.model.pattern import Cords

        plan, colours = plan_of(*["A" * 9] * 4, cords=Cords("A", strands))
        figure = hanging((plan, colours))
        bars = [
            len(re.findall(r"M\S+ \S+H", path))
            for node in nodes(figure)
            if (path := node.get("d", ""))
            and node.get("stroke-linecap") == "round"
            and "V" not in path
        ]
        assert len(plan.hanging_cords) in bars


def _huge() -> Chart:
    """400 x 600 knots of noise, planned only as far as the picture asks."""
    tall, colours = plan_of(*["A"] * 599, "F")
    _, colours = plan_of("ABCDEF")
    lines = range(600)
    cells = tuple("".join("ABCDEF"[(x * y + x // 3) % 6] for x in range(400)) for y in lines)
    wide = 400 * tall.cell.width_mm
    piece = replace(tall.piece, cells=cells)
    plan = replace(tall, piece=piece, knots=dict.fromkeys("ABCDEF", 40_000))
    return replace(
        plan, width_mm=wide, dowel_length_mm=wide + 60, fringe_mm=(150.0,) * 400
    ), colours


@pytest.mark.parametrize("mono", [False, True])
def test_a_large_piece_stays_a_small_picture(mono: bool) -> None:
    for chart in (quilt(60, 90), quilt(120, 50), _huge()):
        assert len(hanging(chart, mono).svg) < 250_000


def test_without_colour_it_is_drawn_in_lines_with_no_yarn_colour() -> None:
    figure = hanging(kingfisher(), mono=True)
    pixels = Shot(figure, 100).pixels.astype(int)
    assert (pixels.max(axis=2) - pixels.min(axis=2)).max() <= 12
    paper = (pixels.min(axis=2) > 250).mean()
    assert paper > 0.55, "an ink saver leaves most of the paper white"


def test_without_colour_darker_yarns_have_heavier_lines() -> None:
    plan, colours = plan_of("AAACCCBBB", "AAACCCBBB", "AAACCCBBB")
    figure = hanging((plan, colours), mono=True)
    drawn = {
        float(node.get("stroke-width", 0)): node.get("d", "")
        for node in nodes(figure)
        if re.fullmatch(r"(M\d \d\.\d+H\d)+", node.get("d", ""))
    }
    widths = sorted(drawn)
    assert len(widths) == 2, "the lightest has no lines"
    assert drawn[widths[0]].startswith("M3 ") and drawn[widths[1]].startswith("M6 ")
