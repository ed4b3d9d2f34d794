"""The elements of a drawing: groups with paths and texts in them, until they are written."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache


class Element:
    """An element with its attributes, which may be named as Python needs it: `stroke_width`,
    `class_`. `elements`: what is in it, or text that is written already; `text`: its words.
    """

    __slots__ = ("attributes", "elements", "name", "text")

    def __init__(self, name: str, attributes: Mapping[str, str], text: str = "") -> None:
        self.name = name
        self.attributes = {_svg_name(key): value for key, value in attributes.items()}
        self.elements: list[Element | str] = []
        self.text = text


def group(attributes: Mapping[str, str]) -> Element:
    return Element("g", attributes)


def path(attributes: Mapping[str, str], data: str) -> Element:
    return Element("path", {**attributes, "d": data})


def text(attributes: Mapping[str, str], words: str) -> Element:
    return Element("text", attributes, words)


def image(attributes: Mapping[str, str]) -> Element:
    """A picture, by SVG 2's plain href, which needs no namespace."""
    return Element("image", attributes)


@cache
def _svg_name(name: str) -> str:
    return name.rstrip("_").replace("_", "-")
