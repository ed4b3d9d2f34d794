"""The colours of a chart: a drawing's own to the bit, a photo's told apart, or the best of some."""

from __future__ import annotations

from itertools import combinations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.charting import draw_chart
from publisher.charting.palette import choose_colours
from publisher.charting.sampling import take_samples
from publisher.charting.subset import best_subset
from publisher.charting.values import Choice
from publisher.model.colour import Colour, difference
from tests.support.pictures import ArrayPicture, as_picture, disc, drawn, pixels, plain

BIRD = ("#e8d19c", "#4fb3bd", "#1e6bab", "#d4662a", "#4d5a2a", "#1b2136", "#fdf8ec")
COLOURS = [Colour.from_hex(text) for text in BIRD]
RGB = np.array([(c.red, c.green, c.blue) for c in COLOURS], np.uint8)


def stripes(count: int) -> np.ndarray:
    """Six columns and four rows of knots a colour."""
    return np.tile(RGB[:count].repeat(6, 0), (24, 1, 1))


@pytest.mark.parametrize("count", range(1, len(BIRD) + 1))
def test_a_drawing_in_so_many_flat_colours_comes_back_exact(count: int) -> None:
    chart = stripes(count)
    made = drawn(as_picture(chart), chart.shape[1], chart.shape[0], count)
    assert {*made.colours} == {*COLOURS[:count]}
    for drawing in made.drawings:
        assert (pixels(made, drawing) == chart).all()


def test_smoothed_edges_add_no_colours_to_a_drawing() -> None:
    """Drawn eight times larger and averaged down: every edge has in-between colours."""
    large = plain(2400, 2400, RGB[0])
    for radius, colour in ((1000, RGB[2]), (700, RGB[3]), (300, RGB[5])):
        large[disc(2400, 2400, (1200, 1200), radius)] = colour
    small = large.reshape(300, 8, 300, 8, 3).mean((1, 3)).round().astype(np.uint8)
    assert len(np.unique(small.reshape(-1, 3), axis=0)) > 64
    made = drawn(small, 50, 50, 8)
    assert {*made.colours} == {COLOURS[at] for at in (0, 2, 3, 5)}


def test_a_small_thing_of_its_own_colour_is_not_lost_to_a_wide_sky() -> None:
    sky = np.linspace((90, 140, 210), (225, 235, 250), 600).round().astype(np.uint8)
    picture = np.repeat(sky[:, None], 800, 1)
    rng = np.random.default_rng(4)
    picture = np.clip(picture + rng.normal(0, 5, picture.shape), 0, 255).astype(np.uint8)
    picture[450:490, 300:380] = (170, 30, 30)
    made = drawn(picture, 60, 63, 5)
    red = Colour(170, 30, 30).lab
    assert min(difference(red, colour.lab) for colour in made.colours) < 3


@given(st.integers(1, 9), st.integers(0, 2**32 - 1))
@settings(max_examples=25, deadline=None)
def test_a_photo_has_no_more_colours_than_asked_for_and_all_can_be_told_apart(
    most: int, seed: int
) -> None:
    rng = np.random.default_rng(seed)
    coarse = rng.integers(0, 256, (5, 7, 3)).astype(float)
    fine = coarse.repeat(20, 0).repeat(20, 1) + rng.normal(0, 12, (100, 140, 3))
    made = drawn(np.clip(fine, 0, 255).astype(np.uint8), 20, 20, most)
    assert 1 <= len(made.colours) <= most
    for one, other in combinations(made.colours, 2):
        assert difference(one.lab, other.lab) >= 10


def test_only_colours_that_there_are_to_choose_from() -> None:
    house = tuple(COLOURS)
    gradient = np.repeat(np.linspace(0, 255, 200).astype(np.uint8), 3).reshape(1, 200, 3)
    picture = np.repeat(gradient, 100, 0)
    made = drawn(picture, 20, 14, 3, only=house)
    assert {*made.colours} <= {*house}
    assert 1 < len(made.colours) <= 3


def test_a_colour_that_is_there_anyhow_stands_for_one_that_looks_like_it() -> None:
    near = Colour(226, 206, 150)
    made = drawn(as_picture(stripes(3)), 18, 24, 3, near=(near, Colour(255, 0, 255)))
    assert near in made.colours
    assert COLOURS[0] not in made.colours
    assert Colour(255, 0, 255) not in made.colours


def test_of_two_colours_that_hardly_differ_one_is_taken() -> None:
    picture = np.hstack((plain(40, 40, (255, 1, 0)), plain(40, 40, (255, 0, 2))))
    assert len(drawn(picture, 8, 6).colours) == 1


def test_the_most_used_colour_comes_first() -> None:
    picture = plain(100, 100, RGB[2])
    picture[:10] = RGB[3]
    samples = take_samples(ArrayPicture(picture), 20, 20)
    assert choose_colours(samples, Choice(4)) == (COLOURS[2], COLOURS[3])


def test_nothing_is_drawn_of_what_can_not_be_seen() -> None:
    clear = np.zeros((5, 5, 4), np.uint8)
    assert draw_chart(ArrayPicture(clear), 5, 5, Choice(3)) is None


@given(
    st.integers(2, 9),
    st.integers(1, 9),
    st.integers(1, 12),
    st.integers(0, 2**32 - 1),
)
@settings(max_examples=80, deadline=None)
def test_few_choices_are_all_tried(count: int, most: int, points: int, seed: int) -> None:
    costs = np.random.default_rng(seed).random((points, count))
    chosen = best_subset(costs, most)
    least = min(
        costs[:, list(way)].min(1).sum()
        for size in range(1, min(most, count) + 1)
        for way in combinations(range(count), size)
    )
    assert len(chosen) <= most
    assert costs[:, chosen].min(1).sum() == pytest.approx(least)


@pytest.mark.parametrize("seed", range(3))
def test_of_many_choices_no_exchange_would_be_better(seed: int) -> None:
    costs = np.random.default_rng(seed).random((200, 40))
    chosen = best_subset(costs, 8)
    total = costs[:, chosen].min(1).sum()
    for gone in chosen:
        for put in {*range(40)} - {*chosen}:
            other = [put if at == gone else at for at in chosen]
            assert costs[:, other].min(1).sum() >= total * (1 - 1e-9)
