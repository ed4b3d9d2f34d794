"""Small plans from letter grids, looks, and what a figure says or shows, for tests of drawings."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any, NamedTuple
from xml.etree import ElementTree

import numpy as np

from publisher.drawing import draw_chart_tile, plan_tiles
from publisher.drawing.base.symbols import BLANK
from publisher.drawing.base.yarn_signs import YARN_CHARACTERS
from publisher.drawing.chart.tiles import TilePlan
from publisher.drawing.chart.view import View
from publisher.manuscript.edition import read_edition
from publisher.model.colour import Colour
from publisher.model.figure import Figure
from publisher.model.look import Look
from publisher.model.pattern import Fringe, Gauge, Yarn, YarnColour
from publisher.model.plan import ChartPlan, Plan
from publisher.plan import make_plan
from publisher.press import page_pictures, print_book
from tests.support.grids import pattern_of
from tests.support.shop import ROOT, demo, installed
from tests.support.svg_books import book

COTTON = Yarn("cotton-3", "3 mm cotton", 3.0, 4.5)
PALETTE = {
    "A": "#f4ead2",
    "B": "#1b2136",
    "C": "#c4602a",
    "D": "#1e6bab",
    "E": "#dcb056",
    "F": "#4d5a2a",
}


Chart = tuple[ChartPlan, tuple[YarnColour, ...]]


def colour(letter: str, srgb: str) -> YarnColour:
    return YarnColour(letter, f"colour {letter}", Colour.from_hex(srgb), COTTON)


def plan_of(
    *cells: str, palette: Mapping[str, str] = PALETTE, fringe: Fringe | None = None, **changes: Any
) -> Chart:
    """The plan of a chart, and its colours. `changes`: fields of its piece."""
    letters = "".join(cells)
    piece = {"gauge": Gauge(), "fringe": fringe or Fringe(), **changes}
    yarns = dict.fromkeys(letters, COTTON)
    pattern = pattern_of(*cells, yarns=yarns, palette=palette, currency=None, **piece)
    return chart_of(make_plan(pattern))


def chart_of(plan: Plan) -> Chart:
    piece = plan.pieces[0]
    assert isinstance(piece, ChartPlan)
    return piece, plan.colours


def look(edition: str = "booklet", **chart: Any) -> Look:
    """An edition's look on A4, some of its chart's measures changed."""
    found = read_edition(installed(), edition, "a4").look
    return replace(found, chart=replace(found.chart, **chart))


def words(table: str = "chart") -> dict[str, str]:
    text = (ROOT / "templates" / "words" / "en.toml").read_text(encoding="utf-8")
    return dict(tomllib.loads(text)[table])


def tiles_of(
    plan: ChartPlan, chosen: Look | None = None, room: tuple[float, float] = (174.0, 190.0)
) -> TilePlan:
    ratio = plan.cell.width_mm / plan.cell.height_mm
    return plan_tiles(plan.columns, plan.rows, *room, ratio, chosen or look())


def tile_of(chart: Chart, number: int, chosen: Look | None = None) -> tuple[Figure, View]:
    """A tile as it is drawn, and where its cells are."""
    plan, colours = chart
    chosen = chosen or look()
    tiles = tiles_of(plan, chosen)
    figure = draw_chart_tile(plan, colours, tiles, number, chosen, words())
    return figure, View.of(plan, tiles, number, chosen)


def kingfisher() -> Chart:
    return chart_of(make_plan(demo("kingfisher-over-reeds")))


class Said(NamedTuple):
    """A text of a figure, where its line begins, in mm."""

    text: str
    x: float
    y: float


def nodes(figure: Figure) -> list[ElementTree.Element]:
    return list(ElementTree.fromstring(figure.svg).iter())


def texts(figure: Figure) -> list[Said]:
    """All texts but rows of signs."""
    return [
        Said(node.text or "", float(node.get("x", 0)), float(node.get("y", 0)))
        for node in nodes(figure)
        if node.tag == "text" and node.get("data-advance") is None
    ]


class SignRow(NamedTuple):
    text: str
    x: float
    y: float
    advance: float
    fill: str


def sign_rows(figure: Figure) -> Iterator[SignRow]:
    """Lines of the chart's symbols, with the ink of the group that they stand in."""
    return (row for row in _set_rows(figure) if not _of_yarns(row))


def mark_rows(figure: Figure) -> Iterator[SignRow]:
    """Lines of the yarns' marks, and of the rims under them."""
    return (row for row in _set_rows(figure) if _of_yarns(row))


def _set_rows(figure: Figure) -> Iterator[SignRow]:
    for group in ElementTree.fromstring(figure.svg).iter("g"):
        for node in group.findall("text"):
            advance = node.get("data-advance")
            if advance is not None:
                x, y = float(node.get("x", 0)), float(node.get("y", 0))
                fill = group.get("fill", "")
                yield SignRow(node.text or "", x, y, float(advance), fill)


def _of_yarns(row: SignRow) -> bool:
    return not set(row.text) - set(YARN_CHARACTERS.values()) - {BLANK}


class Shot:
    """A figure as the press prints it and another engine shows it."""

    def __init__(self, figure: Figure, dpi: float = 200.0) -> None:
        width, height = max(figure.width_mm, 5.0), max(figure.height_mm, 5.0)
        drawn = f'<g data-tag="Figure" data-alt="a figure">{figure.svg}</g>'
        pdf = print_book(book(drawn, width_mm=width, height_mm=height))
        self.pixels = np.asarray(page_pictures(pdf, dpi)[0].convert("RGB"))
        self._scale = dpi / 25.4

    def at(self, x_mm: float, y_mm: float) -> Colour:
        red, green, blue = self.pixels[int(y_mm * self._scale), int(x_mm * self._scale)]
        return Colour(int(red), int(green), int(blue))

    def mean(self, left: float, top: float, right: float, bottom: float) -> Colour:
        """The average colour of a box, in linear light."""
        k = self._scale
        box = self.pixels[int(top * k) : int(bottom * k), int(left * k) : int(right * k)]
        red, green, blue = (round(float(value)) for value in box.reshape(-1, 3).mean(axis=0))
        return Colour(red, green, blue)


def near(one: Colour, other: Colour, within: int = 6) -> bool:
    """Are two colours the same, but for rounding?"""
    pairs = ((one.red, other.red), (one.green, other.green), (one.blue, other.blue))
    return all(abs(a - b) <= within for a, b in pairs)
