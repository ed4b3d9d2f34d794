"""Samples are averages by area, in linear light, of all the picture under them."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.charting import sampling
from publisher.charting.oklab import LINEAR
from publisher.charting.sampling import take_samples
from tests.support.pictures import ArrayPicture, Bytes, plain


def light(array: Bytes, across: int, down: int, turn: int = 1) -> np.ndarray:
    return take_samples(ArrayPicture(array, turn), across, down).light


def grey(*rows: list[int]) -> Bytes:
    return np.repeat(np.array(rows, np.uint8)[..., None], 3, 2)


def test_a_pixel_under_two_samples_counts_in_both_by_its_parts() -> None:
    """By hand: three pixels make two samples of one and a half pixels each."""
    samples = light(grey([0, 255, 255]), 2, 1)[0, :, 0]
    assert samples == pytest.approx([(0 * 1 + 1 * 0.5) / 1.5, 1.0])


def test_the_same_downwards_and_across() -> None:
    samples = light(grey([0, 255], [255, 255], [0, 0]), 1, 2)[:, 0, 0]
    assert samples == pytest.approx([(0.5 * 1 + 1 * 0.5) / 1.5, (1 * 0.5 + 0 * 1) / 1.5])


def test_black_and_white_make_half_the_light_not_half_the_number() -> None:
    board = grey(*[[255 * ((x + y) % 2) for x in range(16)] for y in range(16)])
    samples = light(board, 2, 2)
    assert samples == pytest.approx(0.5)
    # 188 is what is seen as half the light; half the number, 128, would be 0.216 of it.
    assert LINEAR[188] == pytest.approx(0.5, abs=0.004)


def test_a_fine_pattern_does_not_alias() -> None:
    """Stripes of 3 pixels under samples of 3.75: each sample is near the mean, none is striped."""
    stripes = np.tile(grey([0, 255, 0]), (1, 100, 1))
    samples = light(stripes, 80, 1)[0, :, 0]
    assert samples.min() > 0.2
    assert samples.max() < 0.55
    assert samples.mean() == pytest.approx(1 / 3)


sizes = st.integers(1, 23)


@given(sizes, sizes, sizes, sizes, st.integers(1, 200), st.randoms(use_true_random=False))
@settings(max_examples=60, deadline=None)
def test_no_light_is_lost_however_the_picture_is_cut_into_strips(
    width: int, height: int, across: int, down: int, strip: int, random: object
) -> None:
    pixels = np.random.default_rng(random.getrandbits(32)).integers(  # type: ignore[attr-defined]
        0, 256, (height, width, 3), np.uint8
    )
    usual, sampling._STRIP_PIXELS = sampling._STRIP_PIXELS, strip
    try:
        samples = light(pixels, across, down)
    finally:
        sampling._STRIP_PIXELS = usual
    assert samples.shape == (down, across, 3)
    assert samples.mean((0, 1)) == pytest.approx(LINEAR[pixels].mean((0, 1)), abs=1e-4)
    assert samples == pytest.approx(light(pixels, across, down), abs=1e-5)


def test_see_through_pixels_show_white_by_their_opacity() -> None:
    clear = np.array([[[0, 0, 0, 255], [0, 0, 0, 51]]], np.uint8)
    samples = take_samples(ArrayPicture(clear), 2, 1)
    assert samples.light[0, :, 0] == pytest.approx([0, 0.8])
    assert samples.opacity == pytest.approx(0.6)


def test_hidden_colour_under_full_transparency_has_no_part() -> None:
    hidden = np.zeros((4, 4, 4), np.uint8)
    hidden[..., 0] = 255
    samples = take_samples(ArrayPicture(hidden), 2, 2)
    assert samples.opacity == 0
    assert samples.light == pytest.approx(1)
    assert {*samples.looks.tolist()} == {0xFFFFFF}


# Exif 2.32, tag 274: where the stored row 0 and column 0 are to be seen.
TURNS = {
    1: ["ab", "cd", "ef"],
    2: ["ba", "dc", "fe"],
    3: ["fe", "dc", "ba"],
    4: ["ef", "cd", "ab"],
    5: ["ace", "bdf"],
    6: ["eca", "fdb"],
    7: ["fdb", "eca"],
    8: ["bdf", "ace"],
}


@pytest.mark.parametrize("turn", TURNS)
def test_turned_as_it_is_looked_at(turn: int) -> None:
    stored = grey(*[[ord(sign) for sign in row] for row in TURNS[1]])
    seen = TURNS[turn]
    samples = light(stored, len(seen[0]), len(seen), turn)[..., 0]
    wanted = [[LINEAR[ord(sign)] for sign in row] for row in seen]
    assert samples == pytest.approx(np.array(wanted))


def test_pixels_are_looked_at_all_over_a_large_picture() -> None:
    large = plain(1_200, 1_000)
    large[900:] = (10, 20, 30)
    samples = take_samples(ArrayPicture(large), 6, 5)
    assert 100_000 < len(samples.looks) <= 250_000
    assert np.mean(samples.looks == 0x0A141E) == pytest.approx(0.1, abs=0.01)
    assert samples.even.mean() > 0.98
