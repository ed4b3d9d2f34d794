"""Path data is traced exactly as CairoSVG, an independent reader of it, traces it."""

from __future__ import annotations

import math
from typing import Any

import cairocffi
import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.press.paths import is_plain, numbers, trace_path, trace_points
from publisher.press.pen import Pen
from publisher.press.transforms import apply_transform
from publisher.press.tree import PageError


def context() -> Any:
    return cairocffi.Context(cairocffi.RecordingSurface(cairocffi.CONTENT_COLOR_ALPHA, None))


def traced(data: str) -> list[tuple[int, tuple[float, ...]]]:
    drawing = context()
    trace_path(Pen(drawing), data)
    return [(int(kind), tuple(points)) for kind, points in drawing.copy_path()]


def by_cairosvg(data: str) -> list[tuple[int, tuple[float, ...]]]:
    from cairosvg.parser import Tree
    from cairosvg.path import path
    from cairosvg.surface import SVGSurface

    page = f'<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><path d="{data}"/></svg>'
    tree = Tree(bytestring=page.encode())
    surface = SVGSurface(tree, None, 72)
    drawing = surface.context
    drawing.identity_matrix()
    drawing.new_path()
    path(surface, tree.children[0])
    return [(int(kind), tuple(points)) for kind, points in drawing.copy_path()]


def same(
    mine: list[tuple[int, tuple[float, ...]]], other: list[tuple[int, tuple[float, ...]]]
) -> bool:
    return [kind for kind, _ in mine] == [kind for kind, _ in other] and all(
        math.isclose(a, b, abs_tol=0.02)
        for (_, left), (_, right) in zip(mine, other, strict=True)
        for a, b in zip(left, right, strict=True)
    )


@pytest.mark.parametrize(
    "data",
    [
        "M3 7.5H9M3 8.5H12V4",
        "M1,2L3,4Z",
        "M1 2 3 4 5 6",
        "m1 2 3 4 5 6z",
        "M10 10l5 0 0 5-5 0zm20 20h5v5h-5z",
        "M0 0C1 2 3 4 5 6S9 8 9 9",
        "M0 0c1 2 3 4 5 6s4 2 4 3 1 1 2 2",
        "M0 0Q1 5 4 4T9 9t3-3",
        "M1.5.5-2-3L+4 1e1",
        "M0 0H1 2 3V4 5h1 1v-1-1",
        "M0 0 L 10 10 \n C 1 1, 2 2, 3 3 Z",
        "M0 0S1 2 3 4M5 5T9 9",
    ],
)
def test_path_data_is_traced_as_cairosvg_traces_it(data: str) -> None:
    assert is_plain(data)
    assert same(traced(data), by_cairosvg(data))


step = st.integers(-80, 80).map(lambda value: value / 4)


@given(
    st.lists(
        st.one_of(
            st.tuples(st.sampled_from("LlMm"), st.tuples(step, step)),
            st.tuples(st.sampled_from("HhVv"), st.tuples(step)),
            st.tuples(st.sampled_from("Cc"), st.tuples(*[step] * 6)),
            st.tuples(st.just("Z"), st.just(())),
        ),
        max_size=8,
    ),
    st.sampled_from([" ", ",", ", "]),
)
def test_however_path_data_is_written_its_path_is_the_same(
    steps: list[tuple[str, tuple[float, ...]]], between: str
) -> None:
    loose = "M1 2" + "".join(
        command + between.join(f"{value:g}" for value in values) for command, values in steps
    )
    tight = "M1 2" + "".join(
        command + "".join(f"{value:+g}" for value in values) for command, values in steps
    )
    assert same(traced(loose), traced(tight))


def test_arcs_are_left_to_cairosvg() -> None:
    assert not is_plain("M0 0A1 1 0 0 1 2 2")


@pytest.mark.parametrize("data", ["10 10L3 4", "L1 2", "M1", "M1 2L3", "M1 2C1 2 3", "M1 2 L--3 4"])
def test_what_is_not_path_data_is_an_error(data: str) -> None:
    with pytest.raises(PageError):
        traced(data)


@pytest.mark.parametrize("text", ["1 2 x", "1e999", "--1", "1 2 3 four"])
def test_what_is_not_a_list_of_numbers_is_an_error(text: str) -> None:
    with pytest.raises(PageError, match="not a list of numbers"):
        numbers(text)


def test_points_are_traced_in_pairs() -> None:
    drawing = context()
    trace_points(Pen(drawing), "0,0 4,0 4,3", close=True)
    assert len(list(drawing.copy_path())) == 5
    with pytest.raises(PageError, match="no y"):
        trace_points(Pen(drawing), "0 0 4", close=False)


@pytest.mark.parametrize(
    ("written", "point"),
    [
        ("translate(3)", (4, 1)),
        ("translate(3, 5)", (4, 6)),
        ("scale(2)", (2, 2)),
        ("scale(2 3)", (2, 3)),
        ("rotate(90)", (-1, 1)),
        ("rotate(90 1 0)", (0, 0)),
        ("skewX(45)", (2, 1)),
        ("skewY(45)", (1, 2)),
        ("matrix(1 2 3 4 5 6)", (9, 12)),
        ("translate(10 0) scale(2)", (12, 2)),
        ("translate(10 0),\n scale(2)", (12, 2)),
    ],
)
def test_transforms_move_a_point_where_svg_says(written: str, point: tuple[int, int]) -> None:
    drawing = context()
    apply_transform(drawing, written)
    assert drawing.user_to_device(1, 1) == pytest.approx(point)


@pytest.mark.parametrize(
    "written", ["turn(3)", "scale(0)", "translate(1", "rotate(1 2)", "matrix(0 0 0 0 0 0)"]
)
def test_what_is_no_transform_is_an_error(written: str) -> None:
    with pytest.raises(PageError):
        apply_transform(context(), written)
