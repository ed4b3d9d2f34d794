"""Pictures made of arrays, charts drawn as pictures, and what a chart looks like."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from publisher.charting import draw_chart
from publisher.charting.values import Choice, Drawing, DrawnChart

Bytes = NDArray[np.uint8]

WIDE, HIGH = 14, 10
"""A knot's proportion without a swatch, where all cords are alike: 4.2 to 3."""


@dataclass(frozen=True)
class ArrayPicture:
    """The pixels of an array: down, across, and three or four channels."""

    array: Bytes
    turn: int = 1

    @property
    def height(self) -> int:
        return len(self.array)

    @property
    def width(self) -> int:
        return self.array.shape[1]

    @property
    def channels(self) -> int:
        return self.array.shape[2]

    def strips(self, height: int) -> Iterator[bytes]:
        for top in range(0, self.height, height):
            yield np.ascontiguousarray(self.array[top : top + height]).tobytes()


def plain(width: int, height: int, colour: Sequence[int] = (255, 255, 255)) -> Bytes:
    array = np.empty((height, width, 3), np.uint8)
    array[:] = colour
    return array


def drawn(array: Bytes, columns: int, rows: int, most: int = 8, **choice: Any) -> DrawnChart:
    chart = draw_chart(ArrayPicture(array), columns, rows, Choice(most, **choice))
    assert chart is not None
    return chart


def tidied(chart: DrawnChart) -> Bytes:
    """The tidiest of its drawings, a pixel a knot."""
    return pixels(chart, chart.drawings[-1])


def pixels(chart: DrawnChart, drawing: Drawing) -> Bytes:
    palette = np.array([(c.red, c.green, c.blue) for c in chart.colours], np.uint8)
    return palette[np.array(drawing.cells)]


def as_picture(chart: Bytes, wide: int = WIDE, high: int = HIGH) -> Bytes:
    """A chart, a pixel a knot, drawn with cells of so many pixels."""
    return chart.repeat(high, 0).repeat(wide, 1)


def save(array: Bytes, path: Any, **options: Any) -> Any:
    Image.fromarray(array).save(path, **options)
    return path


def disc(width: int, height: int, at: tuple[float, float], radius: float) -> NDArray[np.bool_]:
    """Which pixels' middles lie in a disc."""
    down, across = np.mgrid[0:height, 0:width] + 0.5
    return (across - at[0]) ** 2 + (down - at[1]) ** 2 <= radius**2
