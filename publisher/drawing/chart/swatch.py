"""Draw one colour as a cell of the chart with its symbol."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import number
from publisher.drawing.base.shapes import svg_path
from publisher.drawing.base.symbols import Symbol, assign_symbols, letter_on, symbol_ink, tile_ink
from publisher.fonts.shaping import MM_PER_PT
from publisher.model.colour import Colour
from publisher.model.figure import Figure
from publisher.model.look import Look
from publisher.model.pattern import YarnColour

_FRAME_MM = 0.25


def draw_swatch(
    colour: YarnColour,
    colours: Sequence[YarnColour],
    look: Look,
    width_mm: float,
    height_mm: float,
) -> Figure:
    """A cell of a size. `colours`: all of the pattern's, as the symbol depends on them."""
    canvas = FigureCanvas()
    paint_swatch(canvas, colour, assign_symbols(colours)[colour.letter], look, width_mm, height_mm)
    return canvas.figure(width_mm, height_mm)


def paint_swatch(
    canvas: FigureCanvas,
    colour: YarnColour,
    symbol: Symbol,
    look: Look,
    width_mm: float,
    height_mm: float,
    left: float = 0.0,
    top: float = 0.0,
) -> None:
    """The same inside a larger figure."""
    cell = look.colours["paper"] if look.mono else colour.srgb
    soft = tile_ink if symbol.tile else symbol_ink
    ink = look.colours["ink"] if look.mono else soft(colour.srgb)
    width, height = number(width_mm), number(height_mm)
    frame = f"M{number(left)} {number(top)}h{width}v{height}h-{width}Z"
    line = {"stroke": str(look.colours["ink"]), "stroke_width": number(_FRAME_MM)}
    canvas.fill(frame, cell, **line)
    unit = min(width_mm, height_mm)
    x, y = left + width_mm / 2, top + height_mm / 2
    canvas.fill(svg_path(symbol.outlines, unit, x, y), ink, fill_rule="evenodd")
    if symbol.lettered:
        _paint_letter(canvas, symbol, unit, x, y, letter_on(ink) if symbol.tile else ink)


def _paint_letter(
    canvas: FigureCanvas, symbol: Symbol, unit: float, x: float, y: float, ink: Colour
) -> None:
    size_pt = symbol.size * unit / MM_PER_PT
    base = y + symbol.base * unit
    canvas.text(x + symbol.left * unit, base, symbol.character, symbol.face, size_pt, ink)
