"""The chart is a squared pattern as the old books have it.

Thérèse de Dillmont, Encyclopedia of Needlework (1886, public domain), Macramé: in a pattern on
squared paper one square stands for one double knot on one thread.
"""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.drawing.base.symbols import BLANK
from tests.support.charts import Shot, look, near, plan_of, sign_rows, texts, tile_of

PLAIN = look(run_length_from=0, yarn_marks=False)


@st.composite
def squared(draw: st.DrawFn) -> tuple[str, ...]:
    columns, rows = draw(st.integers(1, 20)), draw(st.integers(1, 24))
    return tuple(draw(st.text("AB", min_size=columns, max_size=columns)) for _ in range(rows))


@settings(max_examples=30, deadline=None)
@given(squared())
def test_one_square_is_one_knot_on_one_cord(cells: tuple[str, ...]) -> None:
    plan, colours = plan_of(*cells)
    figure, view = tile_of((plan, colours), 1, PLAIN)
    squares = len(cells) * len(cells[0])
    signs = sum(len(row.text.replace(BLANK, "")) for row in sign_rows(figure))
    assert signs == squares == plan.total_knots == sum(plan.knots.values())
    assert sum(run.knots for row in plan.row_list for run in row.runs) == squares
    cords = {said.text for said in texts(figure) if said.y < view.top and said.text.isdigit()}
    assert cords == {str(cord) for cord in range(1, plan.columns + 1)}


def test_a_square_is_filled_from_line_to_line_with_the_colour_of_its_knot() -> None:
    plan, colours = plan_of("AB", "BA")
    figure, view = tile_of((plan, colours), 1, PLAIN)
    shot = Shot(figure, 400)
    paints = {one.letter: one.srgb for one in colours}
    for row in view.row_numbers:
        for cord in view.cords:
            for across, down in ((0.08, 0.08), (0.92, 0.08), (0.08, 0.92), (0.92, 0.92)):
                shown = shot.at(view.x(cord + across), view.y(row + down))
                assert near(shown, paints[plan.cells[row - 1][cord - 1]]), (row, cord)
