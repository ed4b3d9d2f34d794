"""Keep the labels of a knot's picture apart, so that two numbers are never read as one."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations

from publisher.fonts import text_width_mm
from publisher.fonts.shaping import MM_PER_PT
from publisher.frozen import frozen
from publisher.model.colour import Colour

CAP_HEIGHT = 0.66
"""Height of a capital or figure, in ems of the face."""
BESIDE_EM, BELOW_EM = 0.45, 0.2
"""Open room between two labels side by side, and between two that stand one above the other."""
EDGE_MM = 0.6
_ROUNDS = 24
_NEAR_MM = 1e-3


@frozen
class Label:
    """A word about its middle, in mm."""

    words: str
    middle: complex
    face: str
    size_pt: float
    colour: Colour

    @property
    def width_mm(self) -> float:
        return text_width_mm(self.words, self.face, self.size_pt)

    @property
    def height_mm(self) -> float:
        return CAP_HEIGHT * self.em_mm

    @property
    def em_mm(self) -> float:
        return self.size_pt * MM_PER_PT


def kept_apart(labels: Sequence[Label], width_mm: float, height_mm: float) -> list[Label]:
    """Labels moved from each other, both as far, until there is room between any two; all of them
    inside the picture."""
    found = [_inside(label, width_mm, height_mm) for label in labels]
    for _ in range(_ROUNDS):
        pushed = False
        for one, other in combinations(range(len(found)), 2):
            push = _push(found[one], found[other])
            if abs(push) > _NEAR_MM:
                found[one] = _inside(_moved(found[one], -push / 2), width_mm, height_mm)
                found[other] = _inside(_moved(found[other], push / 2), width_mm, height_mm)
                pushed = True
        if not pushed:
            break
    return found


def _moved(label: Label, way: complex) -> Label:
    return replace(label, middle=label.middle + way)


def _inside(label: Label, width_mm: float, height_mm: float) -> Label:
    """A label as far from the picture's edges as it has to be."""
    across = EDGE_MM + label.width_mm / 2
    down = EDGE_MM + label.height_mm / 2
    x = min(max(label.middle.real, across), width_mm - across)
    y = min(max(label.middle.imag, down), height_mm - down)
    return replace(label, middle=complex(x, y))


def _push(one: Label, other: Label) -> complex:
    """Return how far the other has to be moved from the one: sideways if they stand on one line,
    else up or down."""
    em = max(one.em_mm, other.em_mm)
    apart = other.middle - one.middle
    across = (one.width_mm + other.width_mm) / 2 + BESIDE_EM * em - abs(apart.real)
    down = (one.height_mm + other.height_mm) / 2 + BELOW_EM * em - abs(apart.imag)
    if across <= 0 or down <= 0:
        return 0j
    if abs(apart.imag) < min(one.height_mm, other.height_mm) / 2:
        return complex(across if apart.real >= 0 else -across, 0.0)
    return complex(0.0, down if apart.imag >= 0 else -down)
