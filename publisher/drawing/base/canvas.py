"""Collect paths and texts, in mm, into the SVG fragment of a figure."""

from __future__ import annotations

from typing import Literal
from xml.etree import ElementTree

from svgwrite import Drawing
from svgwrite.base import BaseElement
from svgwrite.container import Group
from svgwrite.image import Image
from svgwrite.path import Path
from svgwrite.text import Text

from publisher.drawing.base.numbers import number
from publisher.fonts import svg_font, text_width_mm
from publisher.fonts.shaping import MM_PER_PT
from publisher.model.colour import Colour
from publisher.model.figure import Figure

Align = Literal["left", "middle", "right"]
Paint = Colour | str

_DRAWING = Drawing(debug=False)
"""What elements take their settings from: they are not checked while they are made."""


class FigureCanvas:
    """A group to draw in. Every figure is made of a few of them.

    Attributes are named as svgwrite takes them: `stroke_width` or `stroke-width`.
    """

    def __init__(self, **attributes: str) -> None:
        self._group = Group(factory=_DRAWING, **attributes)

    def group(self, **attributes: str) -> FigureCanvas:
        """A group inside this one, on top of what is drawn so far."""
        inner = FigureCanvas(**attributes)
        self._add(inner._group)
        return inner

    def again(self, other: FigureCanvas, transform: str) -> None:
        """Draw once more what another canvas holds, somewhere else."""
        self.group(transform=transform)._add(other._group)

    def name_form(self, name: str) -> None:
        """Say that other figures hold the same shapes, under this name."""
        self._group["data-form"] = name

    def path(self, data: str, **attributes: str) -> None:
        """A path that takes from its group what it doesn't say itself."""
        self._add(Path(data, factory=_DRAWING, **attributes))

    def fill(self, path: str, paint: Paint, **attributes: str) -> None:
        """Fill a path, if there is anything in it."""
        if path:
            self.path(path, fill=str(paint), **attributes)

    def stroke(self, path: str, paint: Paint, width: float, **attributes: str) -> None:
        """Draw along a path, if there is anything in it."""
        if path:
            line = {"fill": "none", "stroke": str(paint), "stroke_width": number(width, 3)}
            self.path(path, **line, **attributes)

    def text(
        self,
        x: float,
        y: float,
        words: str,
        face: str,
        size_pt: float,
        paint: Paint,
        align: Align = "left",
    ) -> float:
        """Set a line of text on a base line; the x after it."""
        width = text_width_mm(words, face, size_pt)
        x -= {"left": 0.0, "middle": width / 2, "right": width}[align]
        self._write(x, y, words, fill=str(paint), **type_attributes(face, size_pt))
        return x + width

    def label(self, x: float, y: float, words: str, advance: str = "") -> None:
        """A text that takes its type from the group it stands in.

        With `advance`, every character is that wide, in mm.
        """
        self._write(x, y, words, **({"data_advance": advance} if advance else {}))

    def _write(self, x: float, y: float, words: str, **attributes: str) -> None:
        text = Text(words, factory=_DRAWING, **attributes)
        text["x"], text["y"] = number(x), number(y)  # half the time of a list of one place
        self._add(text)

    def add(self, figure: Figure) -> None:
        """A figure that is drawn already, from this canvas's top left corner."""
        self._add(_Drawn(figure))

    def image(self, x: float, y: float, width: float, height: float, href: str) -> None:
        """A picture stretched over a box, its pixels kept square and crisp."""
        place, size = (number(x), number(y)), (number(width), number(height))
        crisp = {"preserveAspectRatio": "none", "image_rendering": "optimizeSpeed"}
        picture = Image(href, place, size, factory=_DRAWING, **crisp)
        picture["href"] = picture.attribs.pop("xlink:href")  # SVG 2's, which needs no namespace
        self._add(picture)

    def _add(self, element: BaseElement | _Drawn) -> None:
        self._group.add(element)

    def svg(self) -> str:
        svg: str = self._group.tostring()
        return svg

    def figure(self, width_mm: float, height_mm: float, alt: str = "") -> Figure:
        return Figure(self.svg(), width_mm, height_mm, alt)


def type_attributes(face: str, size_pt: float) -> dict[str, str]:
    """A face and size as attributes of a text or a group of texts."""
    return {**svg_font(face), "font-size": number(size_pt * MM_PER_PT, 3)}


class _Drawn:
    """A figure among svgwrite's elements, which ask one another for their XML."""

    def __init__(self, figure: Figure) -> None:
        self._figure = figure

    def get_xml(self) -> ElementTree.Element:
        return ElementTree.fromstring(self._figure.svg)
