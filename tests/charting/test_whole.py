"""From a picture to a chart and back: proportion, sameness, and the same every time."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.support.drivers import outputs
from tests.support.pictures import HIGH, WIDE, as_picture, disc, drawn, plain, tidied


@given(st.integers(3, 20), st.integers(3, 20), st.integers(1, 8), st.integers(0, 2**32 - 1))
@settings(max_examples=40, deadline=None)
def test_a_chart_taken_for_a_picture_comes_back_as_it_was(
    columns: int, rows: int, most: int, seed: int
) -> None:
    rng = np.random.default_rng(seed)
    patches = rng.integers(0, 256, (rows // 3 + 1, columns // 3 + 1, 3)).repeat(3, 0).repeat(3, 1)
    picture = as_picture(patches[:rows, :columns]) + rng.normal(
        0, 20, (rows * HIGH, columns * WIDE, 3)
    )
    first = tidied(drawn(np.clip(picture, 0, 255).astype(np.uint8), columns, rows, most))
    again = tidied(drawn(as_picture(first), columns, rows, most))
    assert (again == first).all()


@pytest.mark.parametrize("columns", [31, 60, 97])
@pytest.mark.parametrize("at", [(500.0, 500.0), (420.0, 610.0)])
def test_a_circle_stays_round_in_millimetres(columns: int, at: tuple[float, float]) -> None:
    """The ellipse of the same second moments has axes that differ by under 2 %."""
    picture = plain(1000, 1000)
    picture[disc(1000, 1000, at, 330)] = (30, 60, 120)
    rows = round(columns * WIDE / HIGH)
    done = tidied(drawn(picture, columns, rows))[..., 0] == 30
    down, across = np.argwhere(done).T * np.array([[HIGH], [WIDE]])
    # Each cell's own moments: it is an area, not a point.
    spread = np.cov(across, down, bias=True) + np.diag([WIDE**2 / 12, HIGH**2 / 12])
    long, short = np.sqrt(np.linalg.eigvalsh(spread))[::-1]
    assert long / short < 1.02
    area = done.sum() * WIDE * HIGH / (columns * WIDE * rows * HIGH)
    assert area == pytest.approx(np.pi * 0.33**2, rel=0.03)


SCRIPT = """
import numpy as np
from tests.support.pictures import drawn
rng = np.random.default_rng(11)
coarse = rng.integers(0, 256, (6, 8, 3)).repeat(40, 0).repeat(40, 1)
made = drawn(np.clip(coarse + rng.normal(0, 25, coarse.shape), 0, 255).astype(np.uint8), 60, 63)
print(made)
"""


def test_every_process_makes_the_same_chart() -> None:
    assert len(outputs(SCRIPT)) == 1


@pytest.mark.parametrize(("columns", "rows"), [(1, 1), (1, 40), (40, 1), (7, 300), (600, 300)])
def test_every_size_of_chart(columns: int, rows: int) -> None:
    picture = plain(50, 30)
    picture[10:20, 10:30] = (200, 30, 30)
    made = drawn(picture, columns, rows)
    for drawing in made.drawings:
        assert {len(row) for row in drawing.cells} == {columns}
        assert len(drawing.cells) == rows
