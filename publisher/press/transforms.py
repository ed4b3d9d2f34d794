"""Turn an SVG transform list into one cairo matrix."""

from __future__ import annotations

import math
import re
from functools import lru_cache
from typing import Any

from publisher.press.paths import numbers
from publisher.press.tree import PageError

_STEP = re.compile(r"\s*,?\s*([A-Za-z]+)\s*\(([^()]*)\)")


def apply_transform(context: Any, written: str) -> None:
    """Transform a context as `translate(…) scale(…) …` says. PageError if it can't be read."""
    context.transform(_matrix(written))


def check_transform(written: str) -> None:
    """PageError if a transform list can't be read."""
    _matrix(written)


@lru_cache(maxsize=4096)
def _matrix(written: str) -> Any:
    from cairocffi import Matrix

    at = 0
    whole = Matrix()
    for step in _STEP.finditer(written):
        if written[at : step.start()].strip():
            break
        whole = _step(step[1], numbers(step[2])) * whole
        at = step.end()
    if written[at:].strip():
        raise PageError(f"transform=“{written[:60]}” can't be read", "write translate(x y) …")
    return whole


def _step(name: str, values: list[float]) -> Any:
    from cairocffi import Matrix

    match name, values:
        case "translate", [x]:
            return Matrix(x0=x)
        case "translate", [x, y]:
            return Matrix(x0=x, y0=y)
        case "scale", [x]:
            return Matrix(xx=_scale(x), yy=_scale(x))
        case "scale", [x, y]:
            return Matrix(xx=_scale(x), yy=_scale(y))
        case "rotate", [angle]:
            return Matrix.init_rotate(math.radians(angle))
        case "rotate", [angle, x, y]:
            turned = Matrix(x0=-x, y0=-y) * Matrix.init_rotate(math.radians(angle))
            return turned * Matrix(x0=x, y0=y)
        case "skewX", [angle]:
            return Matrix(xy=math.tan(math.radians(angle)))
        case "skewY", [angle]:
            return Matrix(yx=math.tan(math.radians(angle)))
        case "matrix", [xx, yx, xy, yy, x0, y0] if xx * yy != yx * xy:
            return Matrix(xx, yx, xy, yy, x0, y0)
    given = " ".join(f"{value:g}" for value in values)
    raise PageError(f"“{name}({given})” is no transform", "see SVG's list of transforms")


def _scale(value: float) -> float:
    if value == 0:
        raise PageError("a scale of 0 leaves nothing to see", "leave the element out")
    return value
