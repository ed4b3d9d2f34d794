"""Turn an SVG transform list into one matrix."""

from __future__ import annotations

import math
import re
from functools import lru_cache

from publisher.press.svg.matrix import IDENTITY, Matrix
from publisher.press.svg.paths import numbers
from publisher.press.svg.tree import PageError

_STEP = re.compile(r"\s*,?\s*([A-Za-z]+)\s*\(([^()]*)\)")


@lru_cache(maxsize=4096)
def read_transform(written: str) -> Matrix:
    """`translate(…) scale(…) …` as one matrix. PageError if it can't be read."""
    at = 0
    whole = IDENTITY
    for step in _STEP.finditer(written):
        if written[at : step.start()].strip():
            break
        whole = whole.after(_step(step[1], numbers(step[2])))
        at = step.end()
    if written[at:].strip():
        raise PageError(f"transform=“{written[:60]}” can't be read", "write translate(x y) …")
    return whole


def _step(name: str, values: list[float]) -> Matrix:
    match name, values:
        case "translate", [x]:
            return Matrix(e=x)
        case "translate", [x, y]:
            return Matrix(e=x, f=y)
        case "scale", [x]:
            return Matrix(a=_scale(x), d=_scale(x))
        case "scale", [x, y]:
            return Matrix(a=_scale(x), d=_scale(y))
        case "rotate", [angle]:
            return _rotation(angle)
        case "rotate", [angle, x, y]:
            return Matrix(e=x, f=y).after(_rotation(angle)).after(Matrix(e=-x, f=-y))
        case "skewX", [angle]:
            return Matrix(c=math.tan(math.radians(angle)))
        case "skewY", [angle]:
            return Matrix(b=math.tan(math.radians(angle)))
        case "matrix", [a, b, c, d, e, f] if a * d != b * c:
            return Matrix(a, b, c, d, e, f)
    given = " ".join(f"{value:g}" for value in values)
    raise PageError(f"“{name}({given})” is no transform", "see SVG's list of transforms")


def _rotation(angle: float) -> Matrix:
    turn = math.radians(angle)
    return Matrix(math.cos(turn), math.sin(turn), -math.sin(turn), math.cos(turn))


def _scale(value: float) -> float:
    if value == 0:
        raise PageError("a scale of 0 leaves nothing to see", "leave the element out")
    return value
