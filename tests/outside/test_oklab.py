"""OKLab and linear light against published values."""

from __future__ import annotations

import numpy as np
import pytest

from publisher.charting.oklab import LINEAR, SCALE, lab_of
from publisher.model.colour import Colour

# B. Ottosson, "A perceptual color space for image processing" (2020). The red and the blue were
# computed with the colour libraries coloraide 8.13 and colour-science 0.4.7, which agree to 0.0001.
# The green: CSS Color Module Level 4 (W3C), whose tests write #008000 as
# oklab(51.975% -0.1403 0.10768).
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
