"""Colours as OKLab has them come back as they were, and greys stay grey."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.charting.oklab import LINEAR, colours_of, lab_of, oklab, srgb
from publisher.model.colour import Colour

channels = st.integers(0, 255)


@given(channels, channels, channels)
def test_there_and_back_again(red: int, green: int, blue: int) -> None:
    colour = Colour(red, green, blue)
    assert colours_of(srgb(lab_of((colour,)))) == (colour,)


@given(channels)
def test_greys_have_no_hue(value: int) -> None:
    lab = oklab(np.repeat(LINEAR[value], 3).astype(np.float64))
    assert lab[1:] == pytest.approx((0, 0), abs=0.01)
