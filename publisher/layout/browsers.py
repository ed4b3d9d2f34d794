"""Write a figure's texts anew for browsers, which may have other faces than the book's."""

from __future__ import annotations

import html
import re
from dataclasses import replace

from publisher.drawing.base.numbers import number
from publisher.fonts import FACES, face_named, text_width_mm
from publisher.fonts.shaping import MM_PER_PT
from publisher.model.figure import Figure

_SIGNS = FACES["signs"].family
_TAG = re.compile(
    r"(?P<group><g(?P<of_group>[^>]*?)(?P<empty>/?)>)|(?P<end></g>)"
    r"|<text(?P<of_text>[^>]*)>(?P<words>[^<]*)</text>"
)
_ATTRIBUTE = re.compile(r' ([-\w]+)="([^"]*)"')


def for_browsers(figure: Figure) -> Figure:
    """The same figure with its texts as browsers know them.

    Signs are one em wide each, so that the space between them is the same everywhere. Letters that
    stand in for signs have each a place of its own; they, numbers and single words stand about
    their middles, so that they are where they belong in any face.
    """
    faces: list[dict[str, str]] = [{}]

    def written(match: re.Match[str]) -> str:
        if match["group"]:
            if not match["empty"]:
                faces.append(faces[-1] | dict(_ATTRIBUTE.findall(match["of_group"])))
        elif match["end"]:
            faces.pop()
        else:
            own = dict(_ATTRIBUTE.findall(match["of_text"]))
            return _text(own, faces[-1] | own, match["words"])
        return match[0]

    return replace(figure, svg=_TAG.sub(written, figure.svg))


def _text(own: dict[str, str], style: dict[str, str], words: str) -> str:
    """A text with its own attributes, in the style that it has from all about it."""
    advance = own.pop("data-advance", "")
    if style.get("font-family") == _SIGNS:
        if advance:
            own = {"letter-spacing": number(float(advance) - float(style["font-size"])), **own}
        return _tag(own, words)
    characters = html.unescape(words)
    first = float(own["x"])
    if advance:
        lefts = [first + step * float(advance) for step in range(len(characters))]
        parts = list(characters)
    else:
        lefts, parts = [first], [characters]
        if any(character.isspace() for character in characters):
            return _tag(own, words)
    middles = (
        number(left + _width_mm(part, style) / 2) for left, part in zip(lefts, parts, strict=True)
    )
    return _tag({**own, "x": " ".join(middles), "text-anchor": "middle"}, words)


def _width_mm(words: str, style: dict[str, str]) -> float:
    weight, slant = style.get("font-weight", "normal"), style.get("font-style", "normal")
    face = face_named(style["font-family"], weight, slant) or "sans"
    return text_width_mm(words, face, float(style["font-size"]) / MM_PER_PT)


def _tag(attributes: dict[str, str], words: str) -> str:
    listed = "".join(f' {name}="{value}"' for name, value in attributes.items())
    return f"<text{listed}>{words}</text>"
