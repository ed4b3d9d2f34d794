"""Stray knots go where the picture loses least; thin lines and eyes stay."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from scipy import ndimage

from publisher.charting.tidy import nearest, single_knots, tidy, without_singles
from publisher.model.colour import Colour
from tests.support.pictures import HIGH, WIDE, as_picture, disc, drawn, pixels, plain, tidied

INK, PAPER, BLUE = (20, 24, 40), (245, 240, 225), (30, 107, 171)


def singles_by_hand(cells: np.ndarray) -> int:
    """Counted one by one."""
    found = 0
    for (row, column), colour in np.ndenumerate(cells):
        near = cells[max(0, row - 1) : row + 2, max(0, column - 1) : column + 2]
        found += int((near == colour).sum() == 1)
    return found


charts = st.tuples(st.integers(1, 12), st.integers(1, 12)).flatmap(
    lambda size: arrays(np.int64, size, elements=st.integers(0, 3))
)


@given(charts)
@settings(max_examples=100, deadline=None)
def test_single_knots_are_cells_unlike_all_around(cells: np.ndarray) -> None:
    assert single_knots(cells) == singles_by_hand(cells)


costs = st.tuples(st.integers(1, 14), st.integers(1, 14), st.integers(1, 5)).flatmap(
    lambda size: st.tuples(
        st.integers(0, 2**32 - 1).map(lambda seed: np.random.default_rng(seed).random(size)),
        st.floats(1, 80),
    ).map(lambda both: (both[0] * both[1]).astype(np.float32))
)


@given(costs)
@settings(max_examples=150, deadline=None)
def test_there_are_never_more_single_knots_than_before(cost: np.ndarray) -> None:
    cells = nearest(cost)
    gentle, done = without_singles(cells, cost), tidy(cells, cost)
    assert single_knots(cells) >= single_knots(gentle)
    assert single_knots(cells) >= single_knots(done)


@given(costs)
@settings(max_examples=60, deadline=None)
def test_what_is_tidied_is_tidy(cost: np.ndarray) -> None:
    done = tidy(nearest(cost), cost)
    assert (tidy(done, cost) == done).all()


def patches_in(cells: np.ndarray) -> int:
    """Cells of one colour that hang together, by side or corner."""
    every = np.ones((3, 3))
    return sum(ndimage.label(cells == colour, every)[1] for colour in np.unique(cells))


def test_noise_is_merged_into_what_is_round_it() -> None:
    """Grey that wavers between the two colours there are to choose from: few patches are left."""
    rng = np.random.default_rng(7)
    ground = np.clip(rng.normal(128, 14, (60 * HIGH, 40 * WIDE, 1)), 0, 255)
    noisy = as_picture(np.clip(rng.normal(128, 14, (60, 40, 1)), 0, 255), WIDE, HIGH)
    picture = np.repeat((ground + noisy) / 2, 3, 2).astype(np.uint8)
    made = drawn(picture, 40, 60, 2, only=(Colour(112, 112, 112), Colour(144, 144, 144)))
    untidied, *_, done = made.drawings
    before, after = (patches_in(pixels(made, one)[..., 0]) for one in (untidied, done))
    assert untidied.single_knots > 10
    assert done.single_knots == 0
    assert before > 20
    assert after * 3 < before


def test_an_eye_of_one_knot_stays() -> None:
    chart = plain(21, 21, BLUE)
    chart[8:13, 8:13] = INK
    chart[9, 9] = PAPER
    made = drawn(as_picture(chart), 21, 21)
    assert made.drawings[-1].single_knots == 1
    assert (tidied(made) == chart).all()


def test_a_single_knot_that_hardly_differs_goes() -> None:
    chart = plain(15, 15, (200, 180, 150))
    chart[7, 7] = (190, 165, 140)
    chart[:2] = (190, 165, 140)
    made = drawn(as_picture(chart), 15, 15)
    assert made.drawings[0].single_knots == 1
    assert (tidied(made)[3:] == (200, 180, 150)).all()
    assert (tidied(made)[:2] == (190, 165, 140)).all()


@pytest.mark.parametrize("dark_on_light", [True, False])
@pytest.mark.parametrize("share", [0.45, 0.6, 1.0])
def test_a_line_thinner_than_a_knot_is_not_washed_out(share: float, dark_on_light: bool) -> None:
    line, ground = (INK, PAPER) if dark_on_light else (PAPER, INK)
    fine = 20
    picture = plain(30 * fine * 14 // 10, 30 * fine, ground)
    wide = round(share * fine * 14 / 10)
    begin = 12 * fine * 14 // 10 + 4
    picture[5 * fine : 25 * fine, begin : begin + wide] = line
    done = (tidied(drawn(picture, 30, 30)) == line).all(2)
    rows = done.any(1)
    assert rows[6:24].all()
    assert done.sum() <= 2 * 21


def test_a_slanting_outline_stays_in_one_piece() -> None:
    size = 600
    picture = plain(size, size, PAPER)
    ring = disc(size, size, (300, 300), 220) & ~disc(size, size, (300, 300), 210)
    picture[ring] = INK
    done = (tidied(drawn(picture, 40, 56)) == INK).all(2)
    assert ndimage.label(done, np.ones((3, 3)))[1] == 1
    assert not done[28, 20]


def test_a_straight_edge_comes_out_straight() -> None:
    rng = np.random.default_rng(3)
    picture = plain(560, 400, PAPER).astype(float)
    picture[197:] = BLUE
    picture = np.clip(picture + rng.normal(0, 10, picture.shape), 0, 255).astype(np.uint8)
    done = tidied(drawn(picture, 40, 40))
    assert all(len(np.unique(row, axis=0)) == 1 for row in done)


@pytest.mark.parametrize("off", range(0, 20, 3))
def test_a_square_has_no_horns(off: int) -> None:
    """Wherever it lies on the grid of knots: a corner may be cut by a knot, but never stick out."""
    picture = plain(560, 400, PAPER)
    picture[100 + off : 280 + off, 150 + off : 420 + off] = INK
    done = (tidied(drawn(picture, 40, 40)) == INK).all(2)
    wide, high = done.any(0).sum(), done.any(1).sum()
    assert done.sum(1)[done.any(1)].min() >= wide - 2
    assert done.sum(0)[done.any(0)].min() >= high - 2
