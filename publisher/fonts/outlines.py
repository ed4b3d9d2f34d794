"""Give the outlines of a line of text, so that it can be drawn where no font is at hand."""

from __future__ import annotations

from functools import cache
from typing import Any

from publisher.fonts.faces import font_file
from publisher.fonts.shaping import shaper


def outline(text: str, face: str, step_em: float | None = None) -> str:
    """A line's shape as SVG path data, in thousandths of an em, y down, from where it begins.

    It is shaped and kerned as `text_width_em` measures it; with `step_em`, every character begins
    so far from the one before. "" for a text of blanks.
    """
    glyphs = _kerned(text, face) if step_em is None else _stepped(text, face, step_em)
    drawn = _Outlines.of(face)
    return "".join([drawn.glyph(glyph, x, y) for glyph, x, y in glyphs])


_Glyphs = list[tuple[int, float, float]]
"""Glyph numbers, and where each begins, in em, y down."""


def _kerned(text: str, face: str) -> _Glyphs:
    shaped, glyphs, start = shaper(face), [], 0.0
    for word in shaped.words(text):
        glyphs += [(glyph, start + x, y) for glyph, x, y in word.glyphs]
        start += word.advance_em + shaped.space.advance_em
    return glyphs


def _stepped(text: str, face: str, step_em: float) -> _Glyphs:
    return [
        (glyph, number * step_em + x, y)
        for number, letter in enumerate(text)
        for glyph, x, y in shaper(face).word(letter).glyphs
    ]


class _Outlines:
    """The glyphs of a face as path data relative to their first points."""

    def __init__(self, face: str) -> None:
        import uharfbuzz as hb

        self._font: Any = hb.Font(hb.Face(hb.Blob.from_file_path(str(font_file(face)))))
        self._font.scale = 1000, 1000
        self._known: dict[int, _Glyph] = {}

    @staticmethod
    @cache
    def of(face: str) -> _Outlines:
        return _Outlines(face)

    def glyph(self, number: int, x_em: float, y_em: float) -> str:
        """A glyph that begins at a place; "" if there is nothing to see of it."""
        known = self._known.get(number)
        if known is None:
            known = self._known[number] = _Glyph()
            self._font.draw_glyph_with_pen(number, known)
        if not known.data:
            return ""
        x, y = known.first
        return f"M{round(1000 * x_em) + x} {round(1000 * y_em) + y}{known.data}"


class _Glyph:
    """A glyph as HarfBuzz draws it: a pen in the sense of fontTools.

    Coordinates are whole, and y, which goes up in a font, goes down.
    """

    def __init__(self) -> None:
        self.first = 0, 0
        self.data = ""
        self._x = self._y = self._start_x = self._start_y = 0

    def moveTo(self, to: tuple[float, float]) -> None:  # noqa: N802
        x, y = round(to[0]), -round(to[1])
        if self.data:
            self.data += f"m{x - self._x} {y - self._y}"
        else:
            self.first = x, y
        self._x, self._y = self._start_x, self._start_y = x, y

    def lineTo(self, to: tuple[float, float]) -> None:  # noqa: N802
        self._draw("l", to)

    def qCurveTo(self, *points: tuple[float, float]) -> None:  # noqa: N802
        self._draw("q", *points)

    def curveTo(self, *points: tuple[float, float]) -> None:  # noqa: N802
        self._draw("c", *points)

    def closePath(self) -> None:  # noqa: N802
        self.data += "z"
        self._x, self._y = self._start_x, self._start_y

    def _draw(self, command: str, *points: tuple[float, float]) -> None:
        placed = [(round(x), -round(y)) for x, y in points]
        steps = " ".join([f"{x - self._x} {y - self._y}" for x, y in placed])
        self.data += f"{command}{steps}"
        self._x, self._y = placed[-1]
