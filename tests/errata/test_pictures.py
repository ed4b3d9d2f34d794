"""Changed knots, outlined: every one of them in a part that is shown, and round its own cells."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.errata.pictures import Window, change_windows, draw_change_map, draw_changed_part
from tests.support.charts import look, nodes, plan_of, texts, words

ROWS, COLUMNS = 30, 40
CHART = plan_of(*(("AB" * COLUMNS)[row % 2 :][:COLUMNS] for row in range(ROWS)))
PLAN, COLOURS = CHART
KNOTS = st.sets(st.tuples(st.integers(1, ROWS), st.integers(1, COLUMNS)), min_size=1, max_size=12)
_LINE = re.compile(r"M([\d.-]+) ([\d.-]+)L([\d.-]+) ([\d.-]+)")


def outline(svg: str, width: str) -> list[tuple[float, ...]]:
    """The accent lines of a figure: x, y, x, y."""
    path = re.search(rf'<path[^>]*stroke-width="{width}"[^>]*>', svg)
    assert path
    data = re.search(r'd="([^"]*)"', path[0])
    assert data
    return [tuple(map(float, line)) for line in _LINE.findall(data[1])]


@given(KNOTS)
def test_parts_that_are_shown_have_every_changed_knot(knots: set[tuple[int, int]]) -> None:
    windows = change_windows(PLAN, knots)
    assert windows == change_windows(PLAN, tuple(sorted(knots, reverse=True)))
    for window in windows:
        assert 1 <= window.first_row <= window.last_row <= ROWS
        assert 1 <= window.first_cord <= window.last_cord <= COLUMNS
        assert any(window.has(*knot) for knot in knots)
    if windows:
        assert len(windows) <= 4
        assert all(any(window.has(*knot) for window in windows) for knot in knots)


def test_few_knots_have_parts_and_many_scattered_ones_have_none() -> None:
    (window,) = change_windows(PLAN, {(12, 20), (12, 21), (14, 18)})
    assert window == Window(10, 16, 16, 24)
    assert change_windows(PLAN, {(1, 1), (30, 40)}) == (
        Window(1, 5, 1, 9),
        Window(26, 30, 32, 40),
    )
    scattered = {(row, cord) for row in range(1, ROWS, 6) for cord in range(1, COLUMNS, 6)}
    assert change_windows(PLAN, scattered) == ()


def test_changed_knots_are_outlined_on_their_own_cells() -> None:
    window = Window(10, 16, 16, 24)
    figure = draw_changed_part(PLAN, COLOURS, window, {(12, 20), (12, 21)}, look(), words(), "x")
    lines = outline(figure.svg, "0.8")
    assert len(lines) == 4, "one box round both"
    numbers = {said.text: said for said in texts(figure)}
    xs = {x for line in lines for x in (line[0], line[2])}
    ys = {y for line in lines for y in (line[1], line[3])}
    assert (len(xs), len(ys)) == (2, 2)
    assert min(xs) < numbers["20"].x < numbers["21"].x < max(xs)
    assert not min(xs) < numbers["19"].x < max(xs)
    assert not min(xs) < numbers["22"].x < max(xs)
    assert min(ys) < numbers["12"].y < max(ys), "the row's number stands beside it"
    assert {str(cord) for cord in range(16, 25)} <= set(numbers)
    assert {str(row) for row in range(10, 17)} <= set(numbers)
    assert "start" not in numbers


def test_part_fits_on_the_page_and_starts_where_the_work_starts() -> None:
    for window in (Window(1, 5, 1, 24), Window(1, 16, 17, 40)):
        figure = draw_changed_part(PLAN, COLOURS, window, {(1, 20)}, look(), words(), "x")
        assert figure.width_mm <= look().paper.text_width_mm + 0.01
        said = {text.text for text in texts(figure)}
        assert ("start" in said) == (window.first_cord == 1)
        assert figure.alt == "x"


def test_holes_in_what_changed_are_outlined_too() -> None:
    ring = {(row, cord) for row in (5, 6, 7) for cord in (5, 6, 7)} - {(6, 6)}
    figure = draw_change_map(PLAN, COLOURS, (), ring, look(), (60.0, 80.0), "x")
    assert len(outline(figure.svg, "0.55")) == 8
    assert max(figure.width_mm / 60, figure.height_mm / 80) == pytest.approx(1.0)


def test_outline_shows_on_a_copy_in_black_and_white() -> None:
    """On paper's white, in ink: the accent is no help where there is no colour."""
    mono = look("ink-saver")
    figure = draw_change_map(PLAN, COLOURS, (), {(5, 5)}, mono, (60.0, 80.0), "x")
    strokes = [node.get("stroke") for node in nodes(figure) if node.get("stroke-linecap")]
    assert strokes == [str(mono.colours["paper"]), str(mono.colours["ink"])]
