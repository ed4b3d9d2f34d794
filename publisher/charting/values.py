"""What the room takes and gives: a picture's pixels, the colours to choose from, a drawn chart."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from publisher.frozen import frozen
from publisher.model.colour import Colour

Floats = NDArray[np.floating[Any]]
Labels = NDArray[np.intp]
"""Which colour each cell has: rows by columns."""


MOST_COUNTED = 100_000
"""Knots: yarns of larger charts take long to count, so there is no choice to be made by them."""


class Pixels(Protocol):
    """A picture as it is stored: sRGB, 8 bits a channel, top row first."""

    @property
    def width(self) -> int: ...
    @property
    def height(self) -> int: ...
    @property
    def channels(self) -> int:
        """3: red, green, blue; 4: opacity too."""
        ...

    @property
    def turn(self) -> int:
        """The turn to look at it in, 1 to 8 (Exif 2.32, tag 274); 1: none."""
        ...

    def strips(self, height: int) -> Iterator[bytes]:
        """Read all its rows, so many at a time; as often as is asked for."""
        ...


@frozen
class Choice:
    """The colours that a chart may have: `most` of them.

    `only`: those to choose from; without any, the picture's own are found. `near`: colours that
    are there anyhow, and stand for such as are found that look like them. `before`: colours that
    were there, and stand for such as hardly differ from them.
    """

    most: int
    only: tuple[Colour, ...] = ()
    near: tuple[Colour, ...] = ()
    before: tuple[Colour, ...] = ()


@frozen
class Drawing:
    """A chart as numbers of colours: `cells[row][column]`."""

    cells: tuple[tuple[int, ...], ...]
    single_knots: int
    """Cells unlike all the eight around them."""


@frozen
class DrawnChart:
    """A chart from a picture: each cell's nearest colour, then tidied a little, then more."""

    colours: tuple[Colour, ...]
    drawings: tuple[Drawing, ...]
    """The first is untidied; none has more single knots than one before it."""
    see_through: bool
    """Whether some of the picture was, and white was taken for it."""
