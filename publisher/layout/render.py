"""Write sheets as SVG through the templates, once every page number is known."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from types import MappingProxyType
from typing import Any

from markupsafe import Markup, escape

from publisher.drawing.base.numbers import number
from publisher.fonts import font_attributes
from publisher.fonts.shaping import MM_PER_PT
from publisher.layout.boxes import Group, Placed
from publisher.layout.lines import Line, PlacedLine, TextRun
from publisher.layout.templating import Blocks, hex_colours
from publisher.manuscript.markup import is_elsewhere
from publisher.model.look import Look

_INCH_MM = 25.4
_REMEMBERED = 2048
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
        goes_on = ' data-word-goes-on="1"' if line.word_goes_on else ""
        return f'<text x="{number(x)}" y="{number(y)}" {font}{goes_on}>{words}</text>'

    def placed(self, x: float, y: float, lines: Iterable[PlacedLine]) -> Markup:
        """Lines that have their own places from a corner on, each in its role's type."""
        drawn = [self._line(x + one.x, y + one.y, one.line, one.role, "") for one in lines]
        return Markup("".join(drawn))

    def words(self, x: float, y: float, text: str, role: str, colour: str = "") -> Markup:
        """Plain words in a role's plain face."""
        face = self._look.type[role].face
        return self.line(x, y, Line((TextRun(text, face),), 0.0), role, colour)

    def scale_bar(self, x: float, y: float, size: float = 1.0) -> Markup:
        """The path data of a bar of 5 cm, which is 2 inches: ticks down for inches, up for cm."""
        return _scale_bar(x, y, size)

    def page(self, target: str) -> str:
        """The number of the page on which a target stands; "" if there is none."""
        return str(self._pages.get(target, ""))

    def _span(self, run: TextRun, face: str, role: str, colour: str) -> str:
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


@lru_cache(maxsize=16)
def _scale_bar(x: float, y: float, size: float) -> Markup:
    """The same on every page of a book."""
    base = number(y)
    up = [(x + mm, -1.7 if mm in (0, 50) else -0.9) for mm in range(0, 51, 10)]
    down = [(x + _INCH_MM * inches, 1.3) for inches in range(3)]
    ticks = [f"M{number(at)} {base}v{number(tall * size)}" for at, tall in (*up, *down)]
    return Markup(f"M{number(x)} {base}h{number(2 * _INCH_MM)}{''.join(ticks)}")


def _linked(run: TextRun) -> bool:
    return run.target is not None or run.page_of is not None


def _address(target: str) -> str:
    return target if is_elsewhere(target) else f"#{target}"


def draw_boxes(placed: Iterable[Placed], blocks: Blocks) -> Markup:
    """Boxes in order, neighbours of one group wrapped in its structure element."""
    parts: list[str] = []
    _draw(placed, 0.0, 0.0, blocks, parts)
    return Markup("".join(parts))


def _draw(
    placed: Iterable[Placed], x_mm: float, y_mm: float, blocks: Blocks, parts: list[str]
) -> None:
    """Boxes that are placed from a corner on, and what is in them."""
    within: Group | None = None
    for item in placed:
        box = item.box
        if box.group is not within:
            _pass(within, box.group, parts)
            within = box.group
        x, y = x_mm + item.x_mm, y_mm + item.y_mm
        if box.macro:
            parts.append(blocks.draw(box.macro, x, y, box.args))
        if box.children:
            _draw(box.children, x, y, blocks, parts)
    _pass(within, None, parts)


def _pass(before: Group | None, after: Group | None, parts: list[str]) -> None:
    """From one structure element to the next."""
    if before:
        parts.append("</g>")
    if after:
        parts.append(f'<g data-tag="{after.tag}">')


def style_numbers(look: Look) -> dict[str, Any]:
    """The look as templates read it: `type.body.lead_mm`, `colour.ink`, `rule.hair`."""
    return {
        "look": look,
        "paper": look.paper,
        "frame": look.frame,
        "type": look.type,
        "colour": hex_colours(look),
        "rule": look.lines,
        "mono": look.mono,
    }
