"""Affine matrices as SVG and PDF write them: x' = a x + c y + e, y' = b x + d y + f."""

from __future__ import annotations

from typing import NamedTuple


class Matrix(NamedTuple):
    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def of(self, x: float, y: float) -> tuple[float, float]:
        """Return where a point comes to."""
        return self.a * x + self.c * y + self.e, self.b * x + self.d * y + self.f

    def after(self, first: Matrix) -> Matrix:
        """The matrix that does `first`, then this one."""
        a, b, c, d, e, f = self
        return Matrix(
            a * first.a + c * first.b,
            b * first.a + d * first.b,
            a * first.c + c * first.d,
            b * first.c + d * first.d,
            a * first.e + c * first.f + e,
            b * first.e + d * first.f + f,
        )


IDENTITY = Matrix()


class Bounds:
    """A box that grows around what is put into it; None of `box` while there is nothing."""

    def __init__(self) -> None:
        self.box: tuple[float, float, float, float] | None = None

    def add(self, matrix: Matrix, left: float, top: float, right: float, bottom: float) -> None:
        """Hold a box too, that a matrix moves."""
        xs, ys = zip(*(matrix.of(x, y) for x in (left, right) for y in (top, bottom)), strict=True)
        found = (min(xs), min(ys), max(xs), max(ys))
        if self.box is not None:
            old = self.box
            found = (
                min(old[0], found[0]),
                min(old[1], found[1]),
                max(old[2], found[2]),
                max(old[3], found[3]),
            )
        self.box = found
