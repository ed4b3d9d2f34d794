"""What an untidy chart costs, against the picture: each change of yarn, each patch of its own."""

from __future__ import annotations

from publisher.frozen import frozen

NEIGHBOURS = ((-1, -1), (-1, 0), (-1, 1), (0, -1), (0, 1), (1, -1), (1, 0), (1, 1))
"""Steps to the cells around one: down, along."""


@frozen
class Neatness:
    """The price of untidiness, in OKLab distance (black to white is 100)."""

    beside: float
    """Neighbours in a row of two colours: the yarn is changed there."""
    above: float
    across: float
    """Neighbours by a corner."""
    patch: float
    """Cells of one colour that hang together: a yarn of their own, with two ends."""

    def of(self, step: tuple[int, int]) -> float:
        """Of two colours so many rows and columns apart."""
        down, along = step
        return self.beside if not down else self.across if along else self.above


USUAL = Neatness(beside=1.2, above=0.9, across=0.5, patch=16.0)
