"""What templates write with: lines of text in a role's type."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.layout.lines import Line, PlacedLine, TextRun
from publisher.layout.render import Ink
from tests.support.charts import look

INK = Ink(look(), {"terms": 7}, {"rules": "terms"})
ROLES = st.sampled_from(("body", "note", "rows"))
RUNS = st.builds(
    TextRun,
    st.text("ab <&'\"", min_size=1, max_size=6),
    st.sampled_from(("sans", "semibold")),
    st.sampled_from((None, None, "terms", "https://reedbank.example/?a=1&b=2")),
    st.sampled_from((None, None, "terms")),
)
LINES = st.lists(st.lists(RUNS, max_size=4).map(lambda runs: Line(tuple(runs), 10.0)), max_size=4)


@given(st.floats(0, 200), st.floats(0, 200), LINES, ROLES, st.integers(0, 1))
def test_lines_stand_under_one_another_a_lead_apart(
    x: float, y: float, lines: list[Line], role: str, first: int
) -> None:
    lead = look().type[role].lead_mm
    each = [INK.line(x, y + at * lead, line, role) for at, line in enumerate(lines, first)]
    assert INK.lines(x, y, lines, role, first=first) == "".join(each)


@given(st.floats(0, 200), st.floats(0, 200), LINES, ROLES)
def test_placed_lines_stand_where_they_belong_from_a_corner_on(
    x: float, y: float, lines: list[Line], role: str
) -> None:
    placed = [PlacedLine(2.5 * at, 4.0 * at, line, role) for at, line in enumerate(lines)]
    each = [INK.line(x + one.x, y + one.y, one.line, one.role) for one in placed]
    assert INK.placed(x, y, placed) == "".join(each)


def test_words_are_words_whatever_they_hold() -> None:
    line = Line((TextRun("<b> & 'c'", "sans"),), 10.0)
    assert "&lt;b&gt; &amp; &#39;c&#39;</text>" in INK.line(0, 0, line, "body")


def test_a_link_leads_to_the_place_and_a_page_to_come_is_filled_in() -> None:
    runs = (
        TextRun("see ", "sans"),
        TextRun("here", "sans", "rules"),
        TextRun("00", "sans", page_of="terms"),
    )
    drawn = INK.line(0, 0, Line(runs, 10.0), "body")
    assert '<tspan>see </tspan><tspan data-tag="Link" data-href="#terms">here</tspan>' in drawn
    assert '<tspan data-tag="Link" data-href="#terms">7</tspan></text>' in drawn


def test_the_scale_bar_is_five_centimetres_and_two_inches_long() -> None:
    bar = INK.scale_bar(20.0, 280.0)
    assert bar.startswith("M20 280h50.8")
    ticks = re.findall(r"M([\d.]+) 280v(-?[\d.]+)", bar)
    up = [float(x) - 20 for x, tall in ticks if tall.startswith("-")]
    down = [float(x) - 20 for x, tall in ticks if not tall.startswith("-")]
    assert up == [0, 10, 20, 30, 40, 50]
    assert down == pytest.approx([0, 25.4, 50.8])
