"""Read SVG path data, and point lists: step by step, or straight into a PDF's path operators."""

from __future__ import annotations

import math
import re
from functools import lru_cache
from typing import Protocol

from publisher.press.arcs import arc_curves
from publisher.press.matrix import IDENTITY, Matrix
from publisher.press.numbers import plain_list
from publisher.press.tree import PageError

_SEGMENT = re.compile(r"([MmLlHhVvCcSsQqTtAaZz])([^MmLlHhVvCcSsQqTtAaZz]*)")
_NUMBER = re.compile(r"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")
_ARC = re.compile(
    rf"({_NUMBER.pattern})"
    + rf"[\s,]*({_NUMBER.pattern})" * 2
    + r"[\s,]*([01])[\s,]*([01])"
    + rf"[\s,]*({_NUMBER.pattern})" * 2
    + r"[\s,]*"
)
_SPACED = frozenset("0123456789. -")
_COMMON = frozenset("MLHVCZmlhvcz0123456789.- ")
_LONG = re.compile(r"\d{7}")
"""A number that may be out of bounds."""
_MOST_KEPT = 4096
"""Paths that are remembered: the layers of a cord, and knots that stand in many books."""
_LONGEST_KEPT = 20_000
_NO_HANDLE: tuple[str, float, float] = ("", 0.0, 0.0)
_NUMBERS_OF = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2}


class Steps(Protocol):
    """What a path is traced with."""

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


def path_operators(data: str) -> str:
    """Path data → the operators that build it (ISO 32000-1, 8.5.2). PageError if it is none."""
    return _kept_operators(data) if len(data) <= _LONGEST_KEPT else _operators(data)


def _operators(data: str) -> str:
    if _COMMON.issuperset(data) and data[:1] == "M" and not _LONG.search(data):
        try:
            return _common_operators(data)
        except ValueError:  # numbers written close together, or not numbers at all
            pass
    writer = Operators()
    trace_path(writer, data)
    return writer.text()


_kept_operators = lru_cache(maxsize=_MOST_KEPT)(_operators)


_CURVE = "%.12g %.12g %.12g %.12g %.12g %.12g c"


def _plain(value: float) -> str:
    """As `plain`, of a number that is known to be small."""
    return "%.12g" % round(value, 4)  # noqa: UP031


def _common_operators(data: str) -> str:
    """The common case, in one loop: a letter for every step, numbers parted by blanks. Numbers
    that are absolute already stay as they are written. ValueError if it is another case."""
    written: list[str] = []
    x = y = start_x = start_y = 0.0
    for command, text in _SEGMENT.findall(data):
        if command == "c":
            x1, y1, x2, y2, dx, dy = map(float, text.split())
            points = x + x1, y + y1, x + x2, y + y2, x + dx, y + dy
            written.append(_CURVE % tuple([round(number, 4) for number in points]))
            x, y = x + dx, y + dy
        elif command in "lm":
            dx, dy = map(float, text.split())
            x, y = x + dx, y + dy
            if command == "l":
                written.append(f"{_plain(x)} {_plain(y)} l")
            else:
                written.append(f"{_plain(x)} {_plain(y)} m")
                start_x, start_y = x, y
        elif command in "LM":
            x, y = map(float, text.split())
            if command == "L":
                written.append(text + " l")
            else:
                written.append(text + " m")
                start_x, start_y = x, y
        elif command == "C":
            *handles, x, y = map(float, text.split())
            if len(handles) != 4:
                raise ValueError
            written.append(text + " c")
        elif command == "H":
            x = float(text)
            written.append(f"{text} {_plain(y)} l")
        elif command == "V":
            y = float(text)
            written.append(f"{_plain(x)} {text} l")
        elif command == "h":
            x += float(text)
            written.append(f"{_plain(x)} {_plain(y)} l")
        elif command == "v":
            y += float(text)
            written.append(f"{_plain(x)} {_plain(y)} l")
        else:
            if text.strip():
                raise ValueError
            written.append("h")
            x, y = start_x, start_y
    return " ".join(written)


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
        segments = _SEGMENT.findall(data)
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


def plain_path(data: str) -> str:
    """The same path in absolute M, L, C and Z alone. PageError if it is not path data."""
    pen = _Writer()
    trace_path(pen, data)
    return " ".join(pen.steps)


class _Writer:
    """Writes path steps down as SVG has them."""

    def __init__(self) -> None:
        self.steps: list[str] = []

    def move_to(self, *point: float) -> None:
        self._write("M", point)

    def line_to(self, *point: float) -> None:
        self._write("L", point)

    def curve_to(self, *points: float) -> None:
        self._write("C", points)

    def close_path(self) -> None:
        self.steps.append("Z")

    def _write(self, letter: str, numbers: tuple[float, ...]) -> None:
        self.steps.append(letter + " ".join(f"{number:.6f}" for number in numbers))


class Operators:
    """Writes path steps down as a PDF has them, moved by a matrix if one is given."""

    def __init__(self, matrix: Matrix = IDENTITY) -> None:
        self._steps: list[str] = []
        self._matrix = matrix

    def move_to(self, *point: float) -> None:
        self._write(point, "m")

    def line_to(self, *point: float) -> None:
        self._write(point, "l")

    def curve_to(self, *points: float) -> None:
        self._write(points, "c")

    def close_path(self) -> None:
        self._steps.append("h")

    def text(self) -> str:
        return " ".join(self._steps)

    def _write(self, numbers: tuple[float, ...], operator: str) -> None:
        if self._matrix is not IDENTITY:
            pairs = zip(numbers[::2], numbers[1::2], strict=True)
            numbers = tuple(value for x, y in pairs for value in self._matrix.of(x, y))
        self._steps.append(f"{plain_list(*numbers)} {operator}")


class Reach:
    """The points of a path, for the box around it."""

    def __init__(self) -> None:
        self.points: list[tuple[float, float]] = []

    def move_to(self, x: float, y: float) -> None:
        self.points.append((x, y))

    def line_to(self, x: float, y: float) -> None:
        self.points.append((x, y))

    def curve_to(self, *points: float) -> None:
        self.points += zip(points[::2], points[1::2], strict=True)

    def close_path(self) -> None:
        """Nothing new is reached."""

    def box(self) -> tuple[float, float, float, float] | None:
        """Left, top, right, bottom; a curve's handles count."""
        if not self.points:
            return None
        xs, ys = zip(*self.points, strict=True)
        return min(xs), min(ys), max(xs), max(ys)
