"""Turn a picture's pixels into samples on a grid: averages by area, in linear light.

A sample's light is that of all the picture under it, each pixel by the part of it that lies there,
so nothing can alias. Pillow's box filter is not taken for this: it counts pixels whole.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from publisher.charting.oklab import LINEAR
from publisher.charting.values import Floats, Pixels
from publisher.frozen import frozen

Places = NDArray[np.intp]

_STRIP_PIXELS = 400_000
"""Decoded at a time: a few megabytes."""
_LOOKS = 250_000
"""How many pixels are looked at one by one, spread over the picture."""


@frozen(eq=False)
class Samples:
    """Samples of a picture, turned as it is looked at."""

    light: NDArray[np.float32]
    """Down, across, three channels: linear, 0 to 1, over white where it is see-through."""
    looks: NDArray[np.uint32]
    """Single pixels as 0xRRGGBB, from all over the picture."""
    even: NDArray[np.bool_]
    """Which of them are like the three pixels right, below and across from them."""
    opacity: float
    """The picture's mean opacity, 0 to 1."""


def take_samples(picture: Pixels, across: int, down: int) -> Samples:
    """Samples of the whole picture, `across` by `down` of them as it is looked at."""
    if picture.turn > 4:
        across, down = down, across
    rows = _Rows(picture, across, down)
    for top, strip in _strips(picture):
        rows.take(top, strip)
    light = np.concatenate(rows.done)
    return Samples(
        _turned(light, picture.turn),
        np.concatenate(rows.looks),
        np.concatenate(rows.even),
        rows.opacity / (picture.width * picture.height),
    )


def area_weights(size: int, samples: int, start: int, stop: int) -> tuple[int, Floats]:
    """Return how pixels `start` to `stop` of a line of `size` share in `samples` equal parts of it.

    The first part that they share in, and for it and those after it a row of weights.
    """
    part = size / samples
    first, last = start * samples // size, -(-stop * samples // size)
    low = np.arange(first, last)[:, None] * part
    at = np.arange(start, stop)[None, :]
    shared = np.minimum(at + 1, low + part) - np.maximum(at, low)
    return first, np.clip(shared, 0, None) / part


class _Rows:
    """Rows of samples that grow as strips come in."""

    def __init__(self, picture: Pixels, across: int, down: int) -> None:
        self.done: list[NDArray[np.float32]] = []
        self.looks: list[NDArray[np.uint32]] = []
        self.even: list[NDArray[np.bool_]] = []
        self.opacity = 0.0
        self._picture, self._across, self._down = picture, across, down
        self._open: NDArray[np.float32] = np.zeros((0, picture.width, 3), np.float32)
        self._first = 0
        pixels = picture.width * picture.height
        self._step = max(1, int(np.ceil(np.sqrt(pixels / _LOOKS))))

    def take(self, top: int, strip: NDArray[np.uint8]) -> None:
        """Add a strip of pixels to the samples that it lies under."""
        light = self._light(strip)
        self._look(strip)
        height, width = strip.shape[:2]
        first, weights = area_weights(self._picture.height, self._down, top, top + height)
        part = weights.astype(np.float32) @ light.reshape(height, 3 * width)
        part = part.reshape(-1, width, 3)
        common = min(len(part), self._first + len(self._open) - first)
        if common > 0:
            self._open[first - self._first :][:common] += part[:common]
            part = part[common:]
        self._open = np.concatenate((self._open, part))
        bottom = top + height
        self._close(bottom * self._down // self._picture.height - self._first)

    def _close(self, count: int) -> None:
        """Average finished rows across."""
        if count > 0:
            self.done.append(_averages(self._open[:count], self._across))
            self._open, self._first = self._open[count:], self._first + count

    def _light(self, strip: NDArray[np.uint8]) -> NDArray[np.float32]:
        light: NDArray[np.float32] = LINEAR[strip[..., :3]]
        if strip.shape[2] == 3:
            self.opacity += strip.shape[0] * strip.shape[1]
            return light
        opaque = strip[..., 3:].astype(np.float32) / 255
        self.opacity += float(opaque.sum(dtype=np.float64))
        return (light * opaque + (1 - opaque)).astype(np.float32, copy=False)

    def _look(self, strip: NDArray[np.uint8]) -> None:
        step = self._step
        height, width = strip.shape[:2]
        down, across = np.arange(0, height, step), np.arange(0, width, step)
        below, right = np.minimum(down + 1, height - 1), np.minimum(across + 1, width - 1)
        here = _coded(strip, down, across)
        others = [(down, right), (below, across), (below, right)]
        even = np.logical_and.reduce([_coded(strip, *other) == here for other in others])
        self.looks.append(here.ravel())
        self.even.append(even.ravel())


def _strips(picture: Pixels) -> Iterator[tuple[int, NDArray[np.uint8]]]:
    """Each strip and the row it begins at."""
    height = max(1, _STRIP_PIXELS // picture.width)
    top = 0
    for raw in picture.strips(height):
        strip = np.frombuffer(raw, np.uint8).reshape(-1, picture.width, picture.channels)
        yield top, strip
        top += len(strip)


def _averages(rows: NDArray[np.float32], across: int) -> NDArray[np.float32]:
    """Rows of pixels as so many averages by area: what the sums up to two edges differ by."""
    height, width = rows.shape[:2]
    sums = np.zeros((height, width + 1, 3))
    np.cumsum(rows, axis=1, dtype=np.float64, out=sums[:, 1:])
    edges = np.arange(across + 1) * (width / across)
    whole = np.minimum(edges.astype(np.intp), width - 1)
    rest = (edges - whole)[None, :, None]
    at = sums[:, whole] * (1 - rest) + sums[:, whole + 1] * rest
    averages: NDArray[np.float32] = (np.diff(at, axis=1) * (across / width)).astype(np.float32)
    return averages


def _coded(strip: NDArray[np.uint8], down: Places, across: Places) -> NDArray[np.uint32]:
    """Pixels as 0xRRGGBB, over white where they are see-through."""
    taken = strip[np.ix_(down, across)].astype(np.uint32)
    if strip.shape[2] == 4:
        opaque = taken[..., 3:]
        taken = (taken[..., :3] * opaque + 255 * (255 - opaque) + 127) // 255
    red, green, blue = (taken[..., channel] for channel in range(3))
    return ((red << 16) | (green << 8) | blue).astype(np.uint32, copy=False)


def _turned(light: NDArray[np.float32], turn: int) -> NDArray[np.float32]:
    """Turn samples as Exif's orientation says that the picture is looked at."""
    if turn > 4:
        light = light.swapaxes(0, 1)
    if turn in (3, 4, 7, 8):
        light = light[::-1]
    if turn in (2, 3, 6, 7):
        light = light[:, ::-1]
    return light
