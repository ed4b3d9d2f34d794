"""Patterns and plans from letter grids, for tests of the plan; and small charts for hypothesis."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from hypothesis import strategies as st

from publisher.errors import Place
from publisher.knots.defaults import defaults
from publisher.model.colour import Colour
from publisher.model.pattern import (
    CarryLimit,
    ChartPiece,
    Cords,
    Fringe,
    Gauge,
    Mount,
    Pattern,
    Yarn,
    YarnColour,
)
from publisher.model.plan import ChartPlan, Plan
from publisher.plan import make_plan

COTTON = Yarn("cotton-3", "3 mm cotton", 3.0, 4.5, ball_metres=100.0, price=7.2)
SEVEN_BY_FIVE = Gauge(columns=1, width_mm=7.0, rows=1, height_mm=5.0, yarn_mm_per_knot=60.0)
"""Whole mm, so that sums in tests are exact."""
SRGB = ("#f4ead2", "#1b2136", "#c4602a", "#1e6bab", "#dcb056", "#4d5a2a", "#8a8f99", "#6a3d6a")


def pattern_of(
    *cells: str,
    yarns: Mapping[str, Yarn] | None = None,
    limits: Mapping[str, CarryLimit] | None = None,
    palette: Mapping[str, str] | None = None,
    currency: str | None = "GBP",
    **changes: Any,
) -> Pattern:
    """A pattern of one chart. By letter: other yarns, limits, sRGB. `changes`: of its piece."""
    letters = sorted(set("".join(cells)))
    colours = tuple(
        YarnColour(
            letter,
            f"colour {letter}",
            Colour.from_hex((palette or {}).get(letter, SRGB[number % len(SRGB)])),
            (yarns or {}).get(letter, COTTON),
            (limits or {}).get(letter),
        )
        for number, letter in enumerate(letters)
    )
    piece = ChartPiece(
        id="panel",
        make=1,
        cells=tuple(cells),
        first_row_from="left",
        order="zigzag",
        knot="vertical-double-half-hitch",
        mount=Mount(defaults().mount),
        cords=Cords(letters[0]),
        fringe=Fringe(),
        working_length_mm=3000.0,
        tail_mm=100.0,
        carry=CarryLimit(),
        gauge=SEVEN_BY_FIVE,
        allowance_percent=10.0,
        seconds_per_knot=None,
        place=Place("test.toml", 1),
    )
    return Pattern(
        slug="test",
        title="Test",
        version="1.0",
        subtitle="",
        designer="",
        contact="",
        date=None,
        level="",
        about=(),
        terms="",
        currency=currency,
        units="metric-first",
        colours=colours,
        pieces=(replace(piece, **changes),),
        path="test.toml",
        files=(),
    )


def plan_of(*cells: str, **changes: Any) -> Plan:
    return make_plan(pattern_of(*cells, **changes))


def chart_of(*cells: str, **changes: Any) -> ChartPlan:
    """The plan of a chart's one piece."""
    return plan_of(*cells, **changes).charts[0]


def charts(rows: int = 5, columns: int = 5, letters: str = "AB") -> st.SearchStrategy[list[str]]:
    """Charts of up to so many rows and columns."""
    return st.integers(1, columns).flatmap(
        lambda width: st.lists(
            st.text(letters, min_size=width, max_size=width), min_size=1, max_size=rows
        )
    )


SIDES = st.sampled_from(["left", "right"])
ORDERS = st.sampled_from(["zigzag", "one-way"])
LIMITS = st.builds(CarryLimit, st.integers(0, 4), st.integers(0, 3), st.booleans())
