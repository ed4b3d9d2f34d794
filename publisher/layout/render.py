"""Write sheets as SVG through the templates, once every page number is known."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from itertools import groupby
from types import MappingProxyType
from typing import Any

from markupsafe import Markup, escape

from publisher.drawing.look import Look
from publisher.drawing.numbers import number
from publisher.fonts import font_attributes
from publisher.fonts.shaping import MM_PER_PT
from publisher.layout.boxes import Box, Group, Placed
from publisher.layout.lines import Line, Run
from publisher.layout.templating import Blocks

_REMEMBERED = 4096
"""Words in lines, of which most come again, in this book or the next."""


class Ink:
    """The functions that templates draw text with: `line(x, y, line, role)` and its kin.

    `pages` has the page of every place that can be linked to, `also` a place's other names.
    """

    def __init__(
        self, look: Look, pages: Mapping[str, int], also: Mapping[str, str] = MappingProxyType({})
    ) -> None:
        self._look = look
        self._pages = pages
        self._also = also
        self._attributes: dict[tuple[str, str, str], str] = {}

    def line(self, x: float, y: float, line: Line, role: str, colour: str = "") -> Markup:
        """A line of text that starts at x on the base line y, in a role's type."""
        return Markup(self._line(x, y, line, role, colour))

    def lines(
        self, x: float, y: float, lines: Sequence[Line], role: str, colour: str = "", first: int = 1
    ) -> Markup:
        """Lines under one another: the first base line is `first` lines below y."""
        lead = self._look.type[role].lead_mm
        return Markup(
            "".join(
                [
                    self._line(x, y + at * lead, line, role, colour)
                    for at, line in enumerate(lines, first)
                ]
            )
        )

    def _line(self, x: float, y: float, line: Line, role: str, colour: str) -> str:
        runs = line.runs
        if not runs:
            return ""
        first = runs[0]
        font = self.font(first.face, role, colour)
        if len(runs) == 1 and not _linked(first):
            words = _escaped(first.text)
        else:
            words = "".join([self._span(run, first.face, role, colour) for run in runs])
        return f'<text x="{number(x)}" y="{number(y)}" {font}>{words}</text>'

    def words(self, x: float, y: float, text: str, role: str, colour: str = "") -> Markup:
        """Plain words in a role's plain face."""
        face = self._look.type[role].face
        return self.line(x, y, Line((Run(text, face),), 0.0), role, colour)

    def page(self, target: str) -> str:
        """The number of the page on which a target stands; "" if there is none."""
        return str(self._pages.get(target, ""))

    def _span(self, run: Run, face: str, role: str, colour: str) -> str:
        """A run as a tspan, with its own font only where it differs from the text's."""
        font = "" if run.face == face else " " + self.font(run.face, role, colour)
        if not _linked(run):
            return f"<tspan{font}>{_escaped(run.text)}</tspan>"
        text = _escaped(self.page(run.page_of) if run.page_of else run.text)
        target = run.page_of or run.target or ""
        address = _escaped(_address(self._also.get(target, target)))
        return f'<tspan{font} data-tag="Link" data-href="{address}">{text}</tspan>'

    def font(self, face: str, role: str, colour: str = "") -> str:
        """The attributes of a face in a role's size and colour, or in another colour."""
        key = (face, role, colour)
        found = self._attributes.get(key)
        if found is None:
            style = self._look.type[role]
            fill = self._look.colours[colour or style.colour]
            size = number(style.size_pt * MM_PER_PT, 4)
            found = f'{font_attributes(face)} font-size="{size}" fill="{fill}"'
            self._attributes[key] = found
        return found


@lru_cache(maxsize=_REMEMBERED)
def _escaped(text: str) -> str:
    return str(escape(text))


def _linked(run: Run) -> bool:
    return run.target is not None or run.page_of is not None


def _address(target: str) -> str:
    return target if "://" in target or target.startswith("mailto:") else f"#{target}"


def draw_boxes(placed: Iterable[Placed], blocks: Blocks) -> Markup:
    """Boxes in order, neighbours of one group wrapped in its structure element."""
    parts: list[str] = []
    for group, members in groupby(placed, key=lambda item: item.box.group):
        drawn = "".join(_draw(item, blocks) for item in members)
        parts.append(_wrapped(group, drawn))
    return Markup("".join(parts))


def _wrapped(group: Group | None, drawn: str) -> str:
    return f'<g data-tag="{group.tag}">{drawn}</g>' if group else drawn


def _draw(item: Placed, blocks: Blocks) -> str:
    box = item.box
    own = blocks.draw(box.macro, item.x_mm, item.y_mm, box.args) if box.macro else ""
    return own + draw_boxes(_inside(item, box), blocks) if box.children else own


def _inside(item: Placed, box: Box) -> Sequence[Placed]:
    return [
        Placed(item.x_mm + child.x_mm, item.y_mm + child.y_mm, child.box) for child in box.children
    ]


def style_numbers(look: Look) -> dict[str, Any]:
    """The look as templates read it: `type.body.lead_mm`, `colour.ink`, `rule.hair`."""
    return {
        "look": look,
        "paper": look.paper,
        "frame": look.frame,
        "type": look.type,
        "colour": {name: colour.hex for name, colour in look.colours.items()},
        "rule": look.lines,
        "mono": look.mono,
    }
