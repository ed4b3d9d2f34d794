"""Turn sRGB into linear light and OKLab, and back, for whole arrays.

OKLab after Ottosson (2020), "A perceptual color space for image processing". Here lightness is
times 100, and a and b are times 200: between colours that differ in hue alone, plain OKLab finds
less difference than is seen. From black to white is 100, and about 2 is just seen.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from publisher.charting.values import Floats
from publisher.model.colour import Colour

SCALE = np.array((100.0, 200.0, 200.0))

_TO_CONES = np.array(
    (
        (0.4122214708, 0.5363325363, 0.0514459929),
        (0.2119034982, 0.6806995451, 0.1073969566),
        (0.0883024619, 0.2817188376, 0.6299787005),
    )
)
_TO_LAB = np.array(
    (
        (0.2104542553, 0.7936177850, -0.0040720468),
        (1.9779984951, -2.4285922050, 0.4505937099),
        (0.0259040371, 0.7827717662, -0.8086757660),
    )
)
_FROM_LAB, _FROM_CONES = np.linalg.inv(_TO_LAB), np.linalg.inv(_TO_CONES)


LINEAR = np.array([Colour(value, value, value).linear[0] for value in range(256)], np.float32)
"""Linear light, 0 to 1, of each 8-bit sRGB value (IEC 61966-2-1)."""


def oklab(linear: Floats) -> Floats:
    """OKLab of linear light; the last axis holds the three values."""
    kind = linear.dtype
    cones = np.cbrt(np.maximum(linear @ _TO_CONES.T.astype(kind), 0))
    lab: Floats = cones @ (_TO_LAB.T * SCALE).astype(kind)
    return lab


def srgb(lab: Floats) -> NDArray[np.uint8]:
    """The nearest 8-bit sRGB colours; what no screen can show is cut off."""
    linear = ((lab / SCALE) @ _FROM_LAB.T) ** 3 @ _FROM_CONES.T
    light = np.clip(linear, 0, 1)
    coded = np.where(light <= 0.0031308, 12.92 * light, 1.055 * light ** (1 / 2.4) - 0.055)
    rounded: NDArray[np.uint8] = np.floor(coded * 255 + 0.5).astype(np.uint8)
    return rounded


def lab_of(colours: tuple[Colour, ...]) -> Floats:
    """One row a colour."""
    rows = [(colour.red, colour.green, colour.blue) for colour in colours]
    return oklab(LINEAR[np.array(rows, np.uint8).reshape(-1, 3)].astype(np.float64))


def colours_of(coded: NDArray[np.uint8]) -> tuple[Colour, ...]:
    """A colour for each row of red, green and blue."""
    return tuple(Colour(*map(int, row)) for row in coded)
