"""Write a figure as an SVG 1.1 file of its own: words as outlines, nothing that lies elsewhere."""

from __future__ import annotations

import io
import re
from collections.abc import Mapping
from xml.etree import ElementTree

from svgwrite import Drawing
from svgwrite.base import BaseElement, Title
from svgwrite.container import Group
from svgwrite.image import Image
from svgwrite.path import Path

from publisher.drawing.base.numbers import number, point
from publisher.errors import FontError, Place, Problem
from publisher.fonts import FACES, face_named, missing_characters
from publisher.fonts.outlines import outline
from publisher.model.colour import Colour
from publisher.model.figure import Figure

_BLANKS = re.compile(r"[ \t\r\n]+")
_FONT = ("font-family", "font-weight", "font-style", "font-size")
_SIZE = 7
"""Decimals of the size of an outline, which is drawn in thousandths of an em."""


def standalone_svg(
    figure: Figure, title: str, name: str, language: str, ground: Colour, margin_mm: float = 0.0
) -> str:
    """The figure on a ground, with a margin all round, in its true size.

    `title` and the figure's `alt` are what a screen reader says. `name`, of letters, digits and
    hyphens, begins every id in the file, so that files of different names can stand in one page.
    FontError where a face can't write a word.
    """
    width, height = (number(side + 2 * margin_mm) for side in (figure.width_mm, figure.height_mm))
    drawing = Drawing(
        size=(f"{width}mm", f"{height}mm"),
        viewBox=f"0 0 {width} {height}",
        id=name,
        debug=False,
        **{"xml:lang": language},
    )
    drawing.set_desc(title, figure.alt or None)
    for words in drawing.elements:
        if isinstance(words, Title):
            words.xml.set("id", f"{name}-{words.elementname}")
    drawing.add(Path(f"M0 0H{width}V{height}H0Z", fill=str(ground), debug=False))
    place = {"transform": f"translate({point(margin_mm, margin_mm)})"} if margin_mm else {}
    body = drawing.add(Group(debug=False, **place))
    body.add(_element(ElementTree.fromstring(figure.svg), {}))
    written = io.StringIO()
    drawing.write(written)
    return written.getvalue()


def _element(node: ElementTree.Element, around: Mapping[str, str]) -> BaseElement:
    """An element of a figure. `around`: the font that holds where it stands."""
    font = {name: node.get(name, around.get(name, "")) for name in _FONT}
    own = {
        name: value
        for name, value in node.attrib.items()
        if name not in _FONT and not name.startswith("data-")
    }
    if node.tag == "text":
        return _outlined(node, own, font)
    if node.tag == "image":
        return Image(own.pop("href"), debug=False, **own)
    if node.tag == "path":
        return Path(own.pop("d"), debug=False, **own)
    group = Group(debug=False, **own)
    for inner in node:
        group.add(_element(inner, font))
    return group


def _outlined(node: ElementTree.Element, own: dict[str, str], font: Mapping[str, str]) -> Path:
    words, step = node.text or "", node.get("data-advance")
    face = face_named(font["font-family"], font["font-weight"], font["font-style"])
    if face is None:
        raise ValueError(f"no face of the house is {font}")
    size = float(font["font-size"])
    if step is None:
        words = _BLANKS.sub(" ", words).strip()
    missing = missing_characters(words, face)
    if missing:
        what = f"{FACES[face].family} has no “{missing[0]}” for “{words}”"
        raise FontError(Problem(Place("figure"), what, "write it with other characters"))
    place = f"translate({own.pop('x')} {own.pop('y')}) scale({number(size / 1000, _SIZE)})"
    around = own.pop("transform", "")
    data = outline(words, face, None if step is None else float(step) / size)
    return Path(data, transform=f"{around} {place}".strip(), debug=False, **own)
