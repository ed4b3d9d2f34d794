"""Read SVG path data, and lists of points, step by step."""

from __future__ import annotations

import math
import re
from typing import Protocol

from publisher.press.svg.arcs import arc_curves
from publisher.press.svg.tree import PageError

SEGMENT = re.compile(r"([MmLlHhVvCcSsQqTtAaZz])([^MmLlHhVvCcSsQqTtAaZz]*)")
"""A letter of path data, and what stands up to the next."""
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
_ARC = re.compile(
    rf"({_NUMBER.pattern})"
    + rf"[\s,]*({_NUMBER.pattern})" * 2
    + r"[\s,]*([01])[\s,]*([01])"
    + rf"[\s,]*({_NUMBER.pattern})" * 2
    + r"[\s,]*"
)
_SPACED = frozenset("0123456789. -")
_NO_HANDLE: tuple[str, float, float] = ("", 0.0, 0.0)
_NUMBERS_OF = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2}


class Steps(Protocol):
    """The steps that a path is traced with."""

    def move_to(self, x: float, y: float, /) -> object: ...
    def line_to(self, x: float, y: float, /) -> object: ...
    def curve_to(
        self, x1: float, y1: float, x2: float, y2: float, x: float, y: float, /
    ) -> object: ...
    def close_path(self) -> object: ...


def numbers(text: str) -> list[float]:
    """The numbers of a list parted by blanks or commas, or only by their signs and points."""
    if _SPACED.issuperset(text):
        try:
            return [float(part) for part in text.split()]
        except ValueError:
            pass
    found = [float(number) for number in _NUMBER.findall(text)]
    if not all(map(math.isfinite, found)) or _NUMBER.sub("", text).strip(" ,\t\r\n"):
        raise PageError(f"“{text.strip()[:40]}” is not a list of numbers", "write plain numbers")
    return found


def trace_points(pen: Steps, text: str, close: bool) -> None:
    """Points `x,y x,y …` → an open or closed path."""
    values = numbers(text)
    if len(values) % 2:
        raise PageError("a point has an x, but no y", "write points in pairs")
    for index in range(0, len(values), 2):
        draw = pen.line_to if index else pen.move_to
        draw(values[index], values[index + 1])
    if close and values:
        pen.close_path()


def trace_path(pen: Steps, data: str) -> None:
    """Path data → steps of a pen. PageError if it is not path data."""
    _Tracer(pen).trace(data)


class _Tracer:
    """Walks along path data. `x`, `y`: where it is; `start`: where the subpath began;
    `handle`: the last curve's second control point, for the smooth curves that follow it."""

    def __init__(self, pen: Steps) -> None:
        self.move_to, self.line_to = pen.move_to, pen.line_to
        self.curve_to, self.close = pen.curve_to, pen.close_path
        self.x = self.y = 0.0
        self.start = (0.0, 0.0)
        self.handle = _NO_HANDLE

    def trace(self, data: str) -> None:
        segments = SEGMENT.findall(data)
        if data.strip() and (not segments or data.lstrip()[0] not in "Mm"):
            raise PageError(f"“{data.strip()[:40]}” is not path data", "begin it with M")
        for command, text in segments:
            if command in "Zz":
                self.close()
                self.x, self.y = self.start
                self.handle = _NO_HANDLE
                continue
            if command in "Aa":
                self.arcs(text, relative=command == "a")
            else:
                self.segment(command, numbers(text))

    def segment(self, command: str, values: list[float]) -> None:
        kind = command.upper()
        step = _NUMBERS_OF[kind]
        if not values or len(values) % step:
            what = f"{len(values)} numbers follow {command} in path data"
            raise PageError(what, f"it takes {step} at a time")
        relative = command != kind
        if kind in "LHVM":
            self.handle = _NO_HANDLE
        if kind == "L":
            self.lines(values, relative)
        elif kind == "H":
            for value in values:
                self.x = self.x + value if relative else value
                self.line_to(self.x, self.y)
        elif kind == "V":
            for value in values:
                self.y = self.y + value if relative else value
                self.line_to(self.x, self.y)
        elif kind == "M":
            self.begin(values, relative)
        else:
            for index in range(0, len(values), step):
                self.curve(kind, values[index : index + step], relative)

    def begin(self, values: list[float], relative: bool) -> None:
        if relative:
            self.x, self.y = self.x + values[0], self.y + values[1]
        else:
            self.x, self.y = values[0], values[1]
        self.move_to(self.x, self.y)
        self.start = (self.x, self.y)
        if len(values) > 2:
            self.lines(values[2:], relative)

    def lines(self, values: list[float], relative: bool) -> None:
        x, y, line_to = self.x, self.y, self.line_to
        for index in range(0, len(values), 2):
            if relative:
                x, y = x + values[index], y + values[index + 1]
            else:
                x, y = values[index], values[index + 1]
            line_to(x, y)
        self.x, self.y = x, y

    def curve(self, kind: str, values: list[float], relative: bool) -> None:
        """C, S, Q or T: S and T begin where the last curve of their sort points to."""
        x, y = self.x, self.y
        at = [v + (y if i % 2 else x) for i, v in enumerate(values)] if relative else values
        if kind in "ST":
            before, hx, hy = self.handle
            mirrored = (
                (2 * x - hx, 2 * y - hy) if before == ("C" if kind == "S" else "Q") else (x, y)
            )
            at = [*mirrored, *at]
        if kind in "CS":
            self.handle = ("C", at[2], at[3])
        else:
            qx, qy, ex, ey = at
            self.handle = ("Q", qx, qy)
            at = [
                x + (qx - x) * 2 / 3,
                y + (qy - y) * 2 / 3,
                ex + (qx - ex) * 2 / 3,
                ey + (qy - ey) * 2 / 3,
                ex,
                ey,
            ]
        self.curve_to(*at)
        self.x, self.y = at[4], at[5]

    def arcs(self, text: str, relative: bool) -> None:
        """Elliptical arcs, whose two flags may stand close together."""
        self.handle = _NO_HANDLE
        rest = text.strip(" \t\r\n,")
        while found := _ARC.match(rest):
            rx, ry, turned, large, sweep, x, y = numbers(" ".join(found.groups()))
            to = (self.x + x, self.y + y) if relative else (x, y)
            curves = arc_curves((self.x, self.y), (rx, ry), turned, large == 1, sweep == 1, to)
            for curve in curves or ():
                self.curve_to(*curve)
            if curves is None:
                self.line_to(*to)
            self.x, self.y = to
            rest = rest[found.end() :]
        if rest or not text.strip():
            raise PageError(f"“{rest[:40]}” is no arc", "an arc takes 7 numbers")
