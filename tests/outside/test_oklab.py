"""OKLab and linear light against published values."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.charting.oklab import LINEAR, SCALE, colours_of, lab_of, oklab, srgb
from publisher.colour import Colour

# The red and the blue: three reference libraries agree. The green: CSS Color Module Level 4
# (W3C), whose tests write #008000 as oklab(51.975% -0.1403 0.10768).
PUBLISHED = [
    ("#ff0000", (0.6280, 0.2249, 0.1258)),
    ("#0000ff", (0.4520, -0.0325, -0.3115)),
    ("#008000", (0.51975, -0.1403, 0.10768)),
    ("#ffffff", (1.0, 0.0, 0.0)),
    ("#000000", (0.0, 0.0, 0.0)),
]


@pytest.mark.parametrize(("text", "published"), PUBLISHED)
def test_oklab(text: str, published: tuple[float, float, float]) -> None:
    found = lab_of((Colour.from_hex(text),))[0] / SCALE
    assert found == pytest.approx(published, abs=1e-4)


def test_linear_light_is_that_of_iec_61966_2_1() -> None:
    """The two branches meet at 0.04045; 0.5 of the range is 0.2140 of the light."""
    assert [LINEAR[0], LINEAR[255]] == [0, 1]
    assert LINEAR[10] == pytest.approx(10 / 255 / 12.92)
    assert LINEAR[11] == pytest.approx(((11 / 255 + 0.055) / 1.055) ** 2.4)
    assert np.interp(127.5, np.arange(256), LINEAR) == pytest.approx(0.2140, abs=2e-4)
    for value in range(256):
        assert LINEAR[value] == pytest.approx(Colour(value, 0, 0).linear[0], abs=1e-7)


channels = st.integers(0, 255)


@given(channels, channels, channels)
def test_there_and_back_again(red: int, green: int, blue: int) -> None:
    colour = Colour(red, green, blue)
    assert colours_of(srgb(lab_of((colour,)))) == (colour,)


@given(channels)
def test_greys_have_no_hue(value: int) -> None:
    lab = oklab(np.repeat(LINEAR[value], 3).astype(np.float64))
    assert lab[1:] == pytest.approx((0, 0), abs=0.01)
