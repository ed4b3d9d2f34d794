"""Path data is traced exactly as CairoSVG, an independent reader of it, traces it."""

from __future__ import annotations

import itertools
import math
import re
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.press.svg.arcs import arc_curves
from publisher.press.svg.path_pens import path_operators, plain_path
from publisher.press.svg.paths import numbers, trace_path, trace_points
from publisher.press.svg.transforms import read_transform
from publisher.press.svg.tree import PageError
from tests.support.cairo_library import cairocffi, needs_cairo


def context() -> Any:
    return cairocffi.Context(cairocffi.RecordingSurface(cairocffi.CONTENT_COLOR_ALPHA, None))


def traced(data: str) -> list[tuple[int, tuple[float, ...]]]:
    """What the operators written for path data draw (ISO 32000-1, table 59)."""
    drawing = context()
    steps = {"m": drawing.move_to, "l": drawing.line_to, "c": drawing.curve_to}
    operands: list[float] = []
    for token in path_operators(data).split():
        if token == "h":
            drawing.close_path()
        elif token in steps:
            steps[token](*operands)
            operands = []
        else:
            operands.append(float(token))
    assert not operands
    return [(int(kind), tuple(points)) for kind, points in drawing.copy_path()]


def stepped(data: str) -> list[tuple[int, tuple[float, ...]]]:
    """What path data draws step by step."""
    drawing = context()
    trace_path(drawing, data)
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


@needs_cairo
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
    assert same(traced(data), by_cairosvg(data))
    assert same(stepped(data), by_cairosvg(data))


step = st.integers(-80, 80).map(lambda value: value / 4)


@needs_cairo
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
    assert same(traced(loose), stepped(loose))


@needs_cairo
@pytest.mark.parametrize(
    "arc",
    [
        "M10 10A5 5 0 0 1 20 10",
        "M10 10A5 5 0 1 0 20 12",
        "M10 10A8 4 30 0 0 20 12",
        "M10 10A8 4 30 1 1 20 12",
        "M10 10A8 4 30 0 1 20 12",
        "M10 10A8 4-30 1 0 20 12",
        "M10 10a8 4 0 0110 2",
        "M10 10a8,4,0,1,0,10,2,8,4,0,0,1,-3,-9z",
        "M10 10A1 1 0 0 1 30 10",
    ],
)
def test_an_arc_goes_where_cairosvgs_goes(arc: str) -> None:
    mine, other = flattened(traced(arc)), flattened(by_cairosvg(arc))
    for points, line in ((mine, other), (other, mine)):
        for x, y in points:
            assert min(math.hypot(x - a, y - b) for a, b in line) < 0.3
    assert mine[-1] == pytest.approx(other[-1], abs=0.02)


def flattened(path: list[tuple[int, tuple[float, ...]]]) -> list[tuple[float, float]]:
    """Points along a path, close together."""
    points: list[tuple[float, float]] = []
    for kind, values in path:
        if kind in (cairocffi.PATH_MOVE_TO, cairocffi.PATH_LINE_TO):
            points.append((values[0], values[1]))
        elif kind == cairocffi.PATH_CURVE_TO:
            start = points[-1]
            corners = [start, *zip(values[::2], values[1::2], strict=True)]
            for at in (step / 24 for step in range(1, 25)):
                shares = [(1 - at) ** 3, 3 * at * (1 - at) ** 2, 3 * at * at * (1 - at), at**3]
                points.append(
                    (
                        sum(
                            share * corner[0] for share, corner in zip(shares, corners, strict=True)
                        ),
                        sum(
                            share * corner[1] for share, corner in zip(shares, corners, strict=True)
                        ),
                    )
                )
    return points


@given(
    st.tuples(*[st.floats(0.5, 40)] * 2),
    st.floats(-400, 400),
    st.booleans(),
    st.booleans(),
    st.tuples(*[st.floats(-30, 30)] * 2),
)
def test_every_point_of_an_arc_lies_on_its_ellipse(
    radii: tuple[float, float], turned: float, large: bool, sweep: bool, end: tuple[float, float]
) -> None:
    curves = arc_curves((0.0, 0.0), radii, turned, large, sweep, end)
    if curves is None:
        assert math.hypot(*end) < 1e-100
        return
    assert curves[-1][4:] == end
    joints = [(0.0, 0.0), *(curve[4:] for curve in curves)]
    if len(joints) < 3:
        return
    # three points of one ellipse of these proportions, made round, have one centre and radius
    angle = math.radians(turned)
    grown = max(1.0, reach(radii, angle, end))
    rx, ry = radii[0] * grown, radii[1] * grown
    round_ = [unturned(point, angle, rx, ry) for point in joints]
    for (ax, ay), (bx, by) in itertools.combinations(round_, 2):
        assert math.hypot(ax - bx, ay - by) <= 2 + 1e-6


def unturned(point: tuple[float, float], angle: float, rx: float, ry: float) -> tuple[float, float]:
    x, y = point
    cos, sin = math.cos(angle), math.sin(angle)
    return (cos * x + sin * y) / rx, (cos * y - sin * x) / ry


def reach(radii: tuple[float, float], angle: float, end: tuple[float, float]) -> float:
    """How many times the ellipse must grow so that it reaches from the start to the end."""
    x, y = unturned((end[0] / 2, end[1] / 2), angle, *radii)
    return math.hypot(x, y)


@needs_cairo
@pytest.mark.parametrize(
    "data", ["M1 2A", "M1 2A1 1 0 0", "M1 2a7 m", "M1 2A1 1 0 2 1 3 3", "M1 2A1 1 0 0 1 3 x"]
)
def test_what_is_no_arc_is_an_error(data: str) -> None:
    with pytest.raises(PageError):
        traced(data)


@needs_cairo
def test_a_path_can_be_written_plainly() -> None:
    data = "m1 2h3v-1l2 2c1 1 2 2 3 0a4 4 0 0 1 8 0z"
    assert same(traced(plain_path(data)), traced(data))
    assert set(re.findall("[A-Za-z]", plain_path(data))) == set("MLCZ")


@needs_cairo
@pytest.mark.parametrize("data", ["10 10L3 4", "L1 2", "M1", "M1 2L3", "M1 2C1 2 3", "M1 2 L--3 4"])
def test_what_is_not_path_data_is_an_error(data: str) -> None:
    with pytest.raises(PageError):
        traced(data)


@pytest.mark.parametrize("text", ["1 2 x", "1e999", "--1", "1 2 3 four"])
def test_what_is_not_a_list_of_numbers_is_an_error(text: str) -> None:
    with pytest.raises(PageError, match="not a list of numbers"):
        numbers(text)


@needs_cairo
def test_points_are_traced_in_pairs() -> None:
    drawing = context()
    trace_points(drawing, "0,0 4,0 4,3", close=True)
    assert len(list(drawing.copy_path())) == 5
    with pytest.raises(PageError, match="no y"):
        trace_points(drawing, "0 0 4", close=False)


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
    assert read_transform(written).of(1, 1) == pytest.approx(point)


@pytest.mark.parametrize(
    "written", ["turn(3)", "scale(0)", "translate(1", "rotate(1 2)", "matrix(0 0 0 0 0 0)"]
)
def test_what_is_no_transform_is_an_error(written: str) -> None:
    with pytest.raises(PageError):
        read_transform(written)
