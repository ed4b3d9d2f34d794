"""The marks of the yarns are large enough to be told apart, and hide nothing."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from publisher.drawing import draw_back_maps
from publisher.drawing.base.symbols import BLANK, assign_symbols
from publisher.drawing.chart.counts import long_runs
from publisher.drawing.chart.view import View
from publisher.drawing.chart.yarn_marks import mark_size
from publisher.model.look import Look
from publisher.plan import make_plan
from tests.support.charts import Chart, chart_of, look, mark_rows, nodes, plan_of, tile_of
from tests.support.shop import SLUGS, demo

LOOKS = {name: look(name) for name in ("booklet", "ink-saver", "large-print")}
LEAST_MM = {"booklet": 1.6, "ink-saver": 1.6, "large-print": 3.0}
"""A sign that can be told apart at arm's length takes about as much as a lower-case letter."""

Box = tuple[float, float, float, float]


def charts() -> Iterator[Chart]:
    yield from (chart_of(make_plan(demo(slug))) for slug in SLUGS)


def marks(chart: Chart, chosen: Look) -> tuple[View, list[tuple[int, Box]]]:
    """The marks of a chart's first tile, each with its row and the box that it takes."""
    figure, view = tile_of(chart, 1, chosen)
    size, accent = mark_size(chosen), str(view.accent)
    found = []
    for line in mark_rows(figure):
        for at, character in enumerate(line.text):
            if character != BLANK and line.fill == accent:
                left, top = line.x + at * line.advance, line.y - size
                row = int((top + size / 2 - view.top) / view.cell_height) + view.tile.first_row
                found.append((row, (left, top, left + size, line.y)))
    return view, found


def meet(one: Box, other: Box) -> bool:
    return (
        min(one[2], other[2]) - max(one[0], other[0]) > 0.01
        and min(one[3], other[3]) - max(one[1], other[1]) > 0.01
    )


@pytest.mark.parametrize("name", LOOKS)
def test_marks_are_large_enough_to_be_seen_and_stay_in_their_rows(name: str) -> None:
    chosen = LOOKS[name]
    assert mark_size(chosen) >= LEAST_MM[name]
    for chart in charts():
        view, found = marks(chart, chosen)
        for row, (_, top, _, bottom) in found:
            assert view.y(row) <= top and bottom <= view.y(row + 1)


@pytest.mark.parametrize("name", LOOKS)
def test_marks_hide_no_symbol_and_no_count(name: str) -> None:
    for chart in charts():
        colours = chart[1]
        view, found = marks(chart, LOOKS[name])
        counts = {(count.row, cord): count for count in long_runs(view) for cord in count.cords}
        symbols = assign_symbols(colours)
        covered: list[Box] = []
        for row in view.row_numbers:
            for cord, letter in enumerate(view.letters(row), view.tile.first_cord):
                middle, y = view.x(cord + 0.5), view.y(row + 0.5)
                if (row, cord) in counts:
                    count = counts[row, cord]
                    middle, half = view.x(count.middle), count.width_mm / 2
                    covered.append((middle - half, y - 1.0, middle + half, y + 1.0))
                    continue
                points = [one for outline in symbols[letter].outlines for one in outline]
                xs, ys = ([point[axis] * view.unit for point in points] for axis in (0, 1))
                covered.append((middle + min(xs), y + min(ys), middle + max(xs), y + max(ys)))
        for _, mark in found:
            assert not any(meet(mark, box) for box in covered)


def test_the_size_of_marks_is_that_of_the_look_as_far_as_a_small_cell_has_room() -> None:
    assert mark_size(look(mark_mm=1.2)) == 1.2
    crowded = look(mark_mm=9.0)
    assert 2 * mark_size(crowded) < crowded.chart.cell_min_mm
    small, large = (tile_of(plan_of("AABB"), 1, look(mark_mm=mm))[0] for mm in (1.2, 1.5))
    assert 'font-size="1.2"' in small.svg and 'font-size="1.5"' in large.svg


def test_a_count_moves_on_where_a_yarn_is_joined_beside_it() -> None:
    """To the first place in its run that has no mark over it."""
    places = set()
    for length in range(300, 1500, 50):
        chart = plan_of("A" * 40, "A" * 40, working_length_mm=float(length))
        view, found = marks(chart, LOOKS["booklet"])
        for count in long_runs(view):
            middle, y, half = view.x(count.middle), view.y(count.row + 0.5), count.width_mm / 2
            box = middle - half, y - 1.0, middle + half, y + 1.0
            assert not any(meet(mark, box) for _, mark in found)
            places.add(count.cords)
    assert {(2,), (20,), (19,)} <= places  # the second from the left, from the right; moved


def test_the_dots_of_a_back_map_are_as_large_where_there_is_room() -> None:
    plan, colours = plan_of("AAABBB", "AAABBB")
    for name, chosen in LOOKS.items():
        (figure,) = draw_back_maps(plan, colours, chosen, 174.0, 190.0, {"alt": ""})
        (dots,) = (node for node in nodes(figure) if node.get("stroke-linecap") == "round")
        assert float(dots.get("stroke-width", 0)) == LEAST_MM[name]
