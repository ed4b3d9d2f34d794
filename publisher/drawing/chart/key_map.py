"""Draw the whole picture small, with the tiles it is cut into and the one on this page."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import number
from publisher.drawing.base.shapes import disc
from publisher.drawing.chart.tiles import Tile, TilePlan
from publisher.drawing.piece.picture import greys, paint_picture
from publisher.fonts import text_width_mm
from publisher.fonts.shaping import MM_PER_PT
from publisher.model.figure import Figure
from publisher.model.look import Look
from publisher.model.pattern import YarnColour
from publisher.model.plan import ChartPlan

_TALLEST = 1.35
_PIXELS_PER_MM, _MOST_RUNS = 6.0, 200
_SMALLEST_BOX_MM = 2.0
_THIN_MM, _THICK_MM = 0.2, 0.9
_DISC_SIZES, _LEAST_DISC = 0.8, 0.65


def draw_key_map(
    plan: ChartPlan,
    colours: Sequence[YarnColour],
    tiles: TilePlan,
    here: Sequence[Tile],
    look: Look,
    words: Mapping[str, str],
) -> Figure:
    """The picture as wide as the look's key map, or as tall as suits it. `here`: the tiles that
    stand on this page, beside one another."""
    width, height = _size(plan, look)
    paints = {colour.letter: colour.srgb for colour in colours}
    canvas = FigureCanvas()
    shown = greys(paints) if look.mono else paints
    box = (0.0, 0.0, width, height)
    paint_picture(canvas, plan.cells, shown, box, _PIXELS_PER_MM, _MOST_RUNS)
    ink = look.colours["ink"]
    boxes = {tile.number: _box(tile, plan, width, height) for tile in tiles.tiles}
    if _narrowest(boxes.values()) >= _SMALLEST_BOX_MM:
        alone = here[0].number if len(here) == 1 else None
        others = (_path(box) for there, box in boxes.items() if there != alone)
        canvas.stroke("".join(others), ink, _THIN_MM)
    canvas.stroke(_path(box), ink, look.lines["frame"])
    numbers = [tile.number for tile in here]
    if here:
        canvas.stroke(_path(_round([boxes[there] for there in numbers])), look.accent, _THICK_MM)
    _paint_numbers(canvas, tiles, boxes, numbers, look)
    key = ("map_alt_whole", "map_alt", "map_alt_pair", "map_alt_several")[min(3, len(here))]
    ends = {"first": numbers[0], "last": numbers[-1]} if here else {}
    alt = words[key].format(**ends, of=len(tiles.tiles))
    return canvas.figure(width, height, alt)


_Box = tuple[float, float, float, float]


def _size(plan: ChartPlan, look: Look) -> tuple[float, float]:
    width = look.chart.key_map_mm
    height = width * plan.height_mm / plan.width_mm
    if height > width * _TALLEST:
        width, height = width * width * _TALLEST / height, width * _TALLEST
    return width, height


def _box(tile: Tile, plan: ChartPlan, width: float, height: float) -> _Box:
    """A tile's left, top, right and bottom."""
    across, down = width / plan.columns, height / plan.rows
    return (
        (tile.first_cord - 1) * across,
        (tile.first_row - 1) * down,
        tile.last_cord * across,
        tile.last_row * down,
    )


def _round(boxes: Sequence[_Box]) -> _Box:
    """The box round some boxes."""
    lefts, tops, rights, bottoms = zip(*boxes, strict=True)
    return min(lefts), min(tops), max(rights), max(bottoms)


def _path(box: _Box) -> str:
    left, top, right, bottom = (number(edge) for edge in box)
    return f"M{left} {top}H{right}V{bottom}H{left}Z"


def _paint_numbers(
    canvas: FigureCanvas,
    tiles: TilePlan,
    boxes: Mapping[int, _Box],
    here: Sequence[int],
    look: Look,
) -> None:
    """Numbers on discs, where there is room for them; those of this page last, on top."""
    size_pt = look.type["map-number"].size_pt
    full = _DISC_SIZES * size_pt * MM_PER_PT
    radius = min(full, 0.42 * _narrowest(boxes.values()))
    widest = text_width_mm(str(len(boxes)), "bold", size_pt)
    if radius < _LEAST_DISC * full or widest > 2 * radius - 0.5:
        return
    paper, ink = look.colours["paper"], look.colours["ink"]
    for tile in sorted(tiles.tiles, key=lambda tile: tile.number in here):
        mine = tile.number in here
        x, y = _place(tile, tiles, boxes[tile.number], radius)
        line = {} if mine else {"stroke": str(ink), "stroke_width": number(_THIN_MM)}
        canvas.fill(disc(radius, x, y), look.accent if mine else paper, **line)
        base = y + 0.33 * size_pt * MM_PER_PT
        paint = paper if mine else ink
        canvas.text(x, base, str(tile.number), "bold", size_pt, paint, "middle")


def _narrowest(boxes: Iterable[_Box]) -> float:
    return min(side for left, top, right, bottom in boxes for side in (right - left, bottom - top))


def _place(tile: Tile, tiles: TilePlan, box: _Box, radius: float) -> tuple[float, float]:
    """The outer corner of an outer tile, the middle of an inner one."""
    left, top, right, bottom = box
    reach_x = max(0.0, (right - left) / 2 - radius - 0.9)
    reach_y = max(0.0, (bottom - top) / 2 - radius - 0.9)
    side_x = (tile.left is not None) - (tile.right is not None)
    side_y = (tile.above is not None) - (tile.below is not None)
    return (left + right) / 2 + side_x * reach_x, (top + bottom) / 2 + side_y * reach_y
