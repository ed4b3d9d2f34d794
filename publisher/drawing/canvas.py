"""Collect paths and texts, in mm, into the SVG fragment of a figure."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from publisher.colour import Colour
from publisher.drawing.elements import BaseElement, Group, Path, Text, unchecked
from publisher.drawing.figure import Figure
from publisher.drawing.numbers import number
from publisher.drawing.writing import write, write_label, write_path
from publisher.fonts import svg_font, text_width_mm
from publisher.fonts.shaping import MM_PER_PT

Align = Literal["left", "middle", "right"]
Paint = Colour | str


class Canvas:
    """A group to draw in. Every figure is made of a few of them.

    Labels and plain paths, by far the most of what is drawn, are written as they come."""

    def __init__(self, **attributes: str) -> None:
        self._group = unchecked(Group, attributes)

    def group(self, **attributes: str) -> Canvas:
        """A group inside this one, on top of what is drawn so far."""
        inner = Canvas(**attributes)
        self._add(inner._group)
        return inner

    def again(self, other: Canvas, transform: str) -> None:
        """Draw once more what another canvas holds, somewhere else."""
        self.group(transform=transform)._group.add(other._group)

    def fill(self, path: str, paint: Paint, **attributes: str) -> None:
        """Fill a path, if there is anything in it."""
        if path:
            self._add(unchecked(Path, {"fill": str(paint), **attributes}, path))

    def stroke(self, path: str, paint: Paint, width: float, **attributes: str) -> None:
        """Draw along a path, if there is anything in it."""
        if path:
            line = {"fill": "none", "stroke": str(paint), "stroke-width": number(width, 3)}
            self._add(unchecked(Path, {**line, **attributes}, path))

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
        place = {"x": number(x), "y": number(y), "fill": str(paint)}
        self._add(unchecked(Text, {**type_attributes(face, size_pt), **place}, words))
        return x + width

    def label(self, x: float, y: float, words: str, advance: str = "") -> None:
        """A text that takes its type from the group it stands in.

        With `advance`, every character is that wide, in mm.
        """
        place = f'x="{number(x)}" y="{number(y)}"'
        if advance:
            place = f'data-advance="{advance}" {place}'
        self._group.elements.append(write_label(place, words))

    def plain_path(self, attributes: Mapping[str, str]) -> None:
        """A path that takes from its group what it doesn't say itself."""
        self._group.elements.append(write_path(attributes))

    def written(self, svg: str) -> None:
        """Elements that are written already."""
        self._group.elements.append(svg)

    def image(self, x: float, y: float, width: float, height: float, href: str) -> None:
        """A picture stretched over a box, its pixels kept square and crisp."""
        crisp = {"preserveAspectRatio": "none", "image-rendering": "optimizeSpeed", "href": href}
        place = {"x": number(x), "y": number(y), "width": number(width), "height": number(height)}
        picture = unchecked(Group, {**crisp, **place})
        picture.elementname = "image"  # by SVG 2's plain href, which needs no namespace
        self._add(picture)

    def _add(self, element: BaseElement) -> None:
        self._group.elements.append(element)

    def svg(self) -> str:
        return write(self._group)

    def figure(self, width_mm: float, height_mm: float, alt: str = "") -> Figure:
        return Figure(self.svg(), width_mm, height_mm, alt)


def type_attributes(face: str, size_pt: float) -> dict[str, str]:
    """A face and size as attributes of a text or a group of texts."""
    return {**svg_font(face), "font-size": number(size_pt * MM_PER_PT, 3)}
