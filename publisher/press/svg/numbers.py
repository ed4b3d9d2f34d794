"""Write numbers as a PDF's content takes them: plain decimals, never with an exponent."""

from __future__ import annotations

from publisher.press.svg.tree import PageError

_LARGEST = 1e7
"""More is out of every page's bounds, and of what readers' programs count with."""


def plain(value: float) -> str:
    """A number to four decimals. PageError if it is out of bounds."""
    if -_LARGEST < value < _LARGEST:
        return "%.12g" % round(value, 4)  # noqa: UP031 - half the time of an f-string
    what = f"it can't be drawn: the number {value:g} is out of bounds"
    raise PageError(what, "look for a number that is too large")


def plain_list(*values: float) -> str:
    """Numbers parted by blanks."""
    return " ".join(map(plain, values))


def extent(value: float) -> str:
    """A size or a width: to seven decimals if it is tiny, as 0 would be something else."""
    return plain(value) if value >= 0.01 else fine(value)


def fine(value: float) -> str:
    """A number to seven decimals, for a matrix. PageError if it is out of bounds."""
    if -_LARGEST < value < _LARGEST:
        return f"{value:.7f}".rstrip("0").rstrip(".")
    return plain(value)
