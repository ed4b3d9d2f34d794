"""Whether a piece will have the proportion of its picture, and what a writer is told if not."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.catalogue.advice import say_advice
from publisher.errors import Place
from publisher.manuscript.words import read_words
from publisher.model.pattern import Gauge
from publisher.model.plan import Advice, Plan
from publisher.plan import make_plan
from tests.support.grids import pattern_of, plan_of
from tests.support.shop import SLUGS, demo
from tests.support.shop import installed as templates

CODES = ("picture-wider", "picture-taller", "picture-far-off")


def told(plan: Plan) -> list[Advice]:
    return [advice for advice in plan.advice if advice.code in CODES]


def drawn(proportion: float | None, columns: int = 40, rows: int = 20) -> list[Advice]:
    """What is told of a picture with such pixels, its knots 7 x 5 mm: 1.4 times as wide as high."""
    return told(plan_of(*["A" * columns] * rows, pixel_proportion=proportion))


@pytest.mark.parametrize("proportion", [None, 1.4, 1.4 / 1.0299, 1.4 * 1.0299])
def test_nothing_is_told_of_letters_or_up_to_three_percent(proportion: float | None) -> None:
    assert drawn(proportion) == []


@pytest.mark.parametrize(
    ("proportion", "code", "percent"),
    [
        (1.4 / 1.0301, "picture-wider", 3.0),
        (1.4 * 1.0301, "picture-taller", 3.0),
        (1.4 / 1.0649, "picture-wider", 6.5),
        (1.0, "picture-wider", 40),
        (2.8, "picture-taller", 100),
        (15.3, "picture-taller", 993),
        (15.5, "picture-far-off", 1007),
    ],
)
def test_more_is_told_by_how_much(proportion: float, code: str, percent: float) -> None:
    (advice,) = drawn(proportion)
    assert (advice.code, advice.values["percent"]) == (code, percent)
    assert (advice.piece, advice.row, advice.cord) == ("panel", None, None)


def test_square_pixels_and_wide_knots_need_more_rows() -> None:
    """40 x 20 squares are twice as wide as high; so are 40 x 28 knots of 7 x 5 mm: 280 x 140."""
    (advice,) = drawn(1.0)
    assert (advice.values["rows"], advice.values["columns"]) == (28, 29)
    assert (advice.values["across"], advice.values["down"]) == (100, 140)


def test_it_is_the_measured_knot_that_counts() -> None:
    swatch = Gauge(columns=20, width_mm=160.0, rows=20, height_mm=160.0)
    assert not told(plan_of("AAAA", gauge=swatch, pixel_proportion=1.0))
    assert told(plan_of("AAAA", gauge=swatch, pixel_proportion=1.4))


def test_it_is_said_with_the_picture_s_name() -> None:
    pattern = pattern_of(*["A" * 40] * 20, pixel_proportion=1.0, place=Place("reed.png"))
    (advice,) = told(make_plan(pattern))
    assert say_advice(advice, pattern, read_words(templates())) == (
        "reed.png: advice: panel will be 40 % wider for its height than this picture shows. "
        "If it was drawn for knots of this shape, save it with a resolution of 100 across and "
        "140 down (pixels an inch, or any other unit); if not, draw it anew with other rows "
        "(28) or other columns (29), and save it so; or check the gauge"
    )


def test_no_huge_numbers_are_said_of_a_resolution_that_is_a_mistake() -> None:
    pattern = pattern_of(*["A" * 40] * 20, pixel_proportion=3 / (2**31 - 1), place=Place("r.png"))
    (advice,) = told(make_plan(pattern))
    assert say_advice(advice, pattern, read_words(templates())) == (
        "r.png: advice: by its resolution, this picture shows knots that are nothing like those of "
        "panel: more than 10 times as wide or as high. Save it with a resolution of 100 across and "
        "140 down (pixels an inch, or any other unit), or check the gauge"
    )


def test_the_demo_pictures_show_what_will_be_knotted() -> None:
    patterns = [demo(slug) for slug in SLUGS]
    assert any(piece.pixel_proportion for pattern in patterns for piece in pattern.charts)
    assert not any(told(make_plan(pattern)) for pattern in patterns)


WIDTHS, HEIGHTS = st.floats(4.0, 37.5), st.floats(3.0, 26.0)
"""Of a knot of 3 mm cotton, as far as a swatch can be right."""
HALF = 0.5 + 1e-9


@given(WIDTHS, HEIGHTS, st.floats(0.05, 20.0), st.integers(1, 60), st.integers(1, 60))
def test_heeding_it_ends_it(
    width_mm: float, height_mm: float, proportion: float, columns: int, rows: int
) -> None:
    """Saved with the resolution that is told, no more is told; and the rows or columns that are
    told have the picture's proportion in knots, to half a row or column."""
    swatch = Gauge(columns=1, width_mm=width_mm, rows=1, height_mm=height_mm, yarn_mm_per_knot=60.0)
    chart = ["A" * columns] * rows
    for advice in told(plan_of(*chart, gauge=swatch, pixel_proportion=proportion)):
        across, down = float(advice.values["across"]), float(advice.values["down"])
        assert not told(plan_of(*chart, gauge=swatch, pixel_proportion=down / across))
        shown = columns * proportion / rows
        more, fewer = float(advice.values["rows"]), float(advice.values["columns"])
        assert abs(columns * width_mm / height_mm / shown - more) <= HALF or more == 1
        assert abs(rows * height_mm / width_mm * shown - fewer) <= HALF or fewer == 1
