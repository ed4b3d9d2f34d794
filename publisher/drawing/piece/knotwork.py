"""Paint knotted cloth as it looks: two slanted bumps a knot, leaning the way the row went.

Bumps are glyphs of the sign font, on a darker ground; where there are too many knots, or they are
too small, colours are plain strokes, one for every run. Light and shade are the same for all
colours, laid over as dashes along the columns. A column's dashes are slanted by a skewed grid, one
for the rows that went right and one for those that went left, so that they take a few paths,
however many knots there are.
"""

from __future__ import annotations

from collections.abc import Mapping

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import number, point
from publisher.drawing.base.symbols import BLANK
from publisher.drawing.base.yarn_signs import YARN_CHARACTERS
from publisher.drawing.piece.picture import paint_picture
from publisher.fonts import svg_font
from publisher.frozen import frozen
from publisher.model.colour import BLACK, WHITE, Colour
from publisher.model.plan import ChartPlan

SHADE = Colour.from_hex("#2a1d10")
"""What lies in shadow: dark and warm, so that pale yarn does not look grey."""

_SLANT = 0.13
_MOST_BUMPED = 16000
_DARK = 0.1
_FINE_MM = 1.0
COARSE_MM = 0.45


@frozen
class Cloth:
    """The place of the knots: the left top corner and the size of one, in mm on paper."""

    plan: ChartPlan
    left: float
    top: float
    cell_width: float
    cell_height: float

    @property
    def right(self) -> float:
        return self.left + self.plan.columns * self.cell_width

    @property
    def bottom(self) -> float:
        return self.top + self.plan.rows * self.cell_height

    @property
    def box(self) -> tuple[float, float, float, float]:
        return self.left, self.top, self.right - self.left, self.bottom - self.top

    def grid(self, slant: float = 0.0) -> str:
        """From cells to mm; with a slant, a level line falls by so many rows a column."""
        parts = (self.cell_width, self.cell_height * slant, 0.0, self.cell_height)
        matrix = " ".join(number(part, 5) for part in parts)
        return f"matrix({matrix} {number(self.left, 3)} {number(self.top, 3)})"


def paint_cloth(canvas: FigureCanvas, cloth: Cloth, paints: Mapping[str, Colour]) -> None:
    """The knots in colour, in relief as far as their number and size on paper allow."""
    if cloth.cell_height >= _FINE_MM and _glyphs(cloth.plan) <= _MOST_BUMPED:
        _paint_turns(canvas, cloth, paints)
        deep = {letter: paint.mix(_shadow(paint), 0.40) for letter, paint in paints.items()}
        paint_picture(canvas, cloth.plan.cells, deep, cloth.box)
        _paint_bumps(canvas, cloth, paints)
        relief: tuple[_Layer, ...] = _BUMPED
    else:
        paint_picture(canvas, cloth.plan.cells, paints, cloth.box)
        relief = _RELIEF
    for layer in relief:
        if cloth.cell_height >= layer.from_mm:
            _paint_layer(canvas, cloth, layer)


@frozen
class _Layer:
    """Dashes along every column at a `place` in it, or between columns where that is 0.

    `starts` are where dashes begin in a row, `lengths` how long they are, in rows; none: a whole
    line. `width` is in columns.
    """

    place: float
    width: float
    starts: tuple[float, ...]
    lengths: tuple[float, ...]
    paint: Colour
    opacity: float
    from_mm: float


_RELIEF = (
    _Layer(0.0, 0.30, (), (), SHADE, 0.10, _FINE_MM),
    _Layer(0.0, 0.08, (), (), SHADE, 0.34, COARSE_MM),
    _Layer(0.0, 0.34, (-0.09, 0.41), (0.18, 0.18), SHADE, 0.22, _FINE_MM),
    _Layer(0.5, 1.00, (-0.09, 0.40), (0.18, 0.19), SHADE, 0.13, _FINE_MM),
    _Layer(0.5, 1.00, (-0.03, 0.465), (0.06, 0.07), SHADE, 0.38, COARSE_MM),
    _Layer(0.5, 0.62, (0.10, 0.60), (0.20, 0.20), WHITE, 0.13, COARSE_MM),
    _Layer(0.5, 0.40, (0.13, 0.63), (0.09, 0.09), WHITE, 0.15, _FINE_MM),
)
_BUMPED = (
    _Layer(0.5, 0.70, (0.35, 0.84), (0.08, 0.08), SHADE, 0.20, 0.0),
    _Layer(0.5, 0.62, (0.11, 0.60), (0.20, 0.20), WHITE, 0.12, 0.0),
    _Layer(0.5, 0.44, (0.14, 0.63), (0.08, 0.08), WHITE, 0.20, 0.0),
)


def _paint_layer(canvas: FigureCanvas, cloth: Cloth, layer: _Layer) -> None:
    line = {"stroke_opacity": number(layer.opacity)}
    columns, rows = cloth.plan.columns, cloth.plan.rows
    if not layer.starts:
        path = "".join(f"M{column} 0V{rows}" for column in range(1, columns))
        canvas.group(transform=cloth.grid()).stroke(path, layer.paint, layer.width, **line)
        return
    for from_left in (True, False):
        slant = _SLANT if from_left else -_SLANT
        first = _first_row(cloth.plan, from_left)
        if first is None:
            continue
        step = 2 if cloth.plan.piece.order == "zigzag" else 1
        lines = []
        for column in range(0 if layer.place else 1, columns):
            x = column + layer.place
            middle = slant * (column + 0.5)
            top = first + layer.starts[0] - middle
            lines.append(f"M{number(x)} {number(top, 3)}V{number(rows - middle, 3)}")
        dashes = " ".join(number(part, 3) for part in _dashes(layer, step))
        group = canvas.group(transform=cloth.grid(slant))
        group.stroke("".join(lines), layer.paint, layer.width, stroke_dasharray=dashes, **line)


def _dashes(layer: _Layer, step: int) -> list[float]:
    """Dash, gap, dash, gap, … for `step` rows, of which the first is drawn."""
    ends = [start + length for start, length in zip(layer.starts, layer.lengths, strict=True)]
    following = [*layer.starts[1:], layer.starts[0] + step]
    pairs = zip(layer.lengths, ends, following, strict=True)
    return [part for length, end, after in pairs for part in (length, after - end)]


def _first_row(plan: ChartPlan, from_left: bool) -> int | None:
    """The first row, from 0, that is worked rightward, or leftward."""
    side = "left" if from_left else "right"
    return next((index for index, row in enumerate(plan.row_list[:2]) if row.start == side), None)


def _paint_bumps(canvas: FigureCanvas, cloth: Cloth, paints: Mapping[str, Colour]) -> None:
    """The knots of each colour and row as a line of text, a knot a character."""
    grid = canvas.group(transform=cloth.grid(), font_size="1", **svg_font("signs"))
    blanks = {ord(letter): BLANK for letter in cloth.plan.knots}
    for letter in sorted(cloth.plan.knots):
        group = grid.group(fill=str(paints[letter]))
        knots = {
            side: blanks | {ord(letter): YARN_CHARACTERS[f"knot {way}"]}
            for side, way in (("left", "right"), ("right", "left"))
        }
        for row, letters in zip(cloth.plan.row_list, cloth.plan.cells, strict=True):
            if letter in letters:
                first, last = letters.index(letter), letters.rindex(letter)
                text = letters[first : last + 1].translate(knots[row.start])
                group.label(first, row.row, text, "1")


def _glyphs(plan: ChartPlan) -> int:
    """Return how many characters the lines of knots have, with the blanks between those of a
    colour."""
    spans = (
        row.rindex(letter) - row.index(letter) + 1
        for row in plan.cells
        for letter in plan.knots
        if letter in row
    )
    return sum(spans)


def _shadow(paint: Colour) -> Colour:
    """Return what a colour turns to where it is dark: warm, unless it is dark already."""
    return SHADE if paint.luminance > _DARK else BLACK


def _paint_turns(canvas: FigureCanvas, cloth: Cloth, paints: Mapping[str, Colour]) -> None:
    """At the edges, where a yarn turns into the next row."""
    plan, tall = cloth.plan, cloth.cell_height
    if plan.piece.order != "zigzag":
        return
    paths: dict[str, list[str]] = {}
    for row in plan.row_list[:-1]:
        at_right = row.start == "left"
        edge = -1 if at_right else 0
        letter = plan.cells[row.row - 1][edge]
        if letter == plan.cells[row.row][edge]:
            x = cloth.right if at_right else cloth.left
            turn = f"M{point(x, cloth.top + (row.row - 0.24) * tall)}v{number(0.48 * tall)}"
            paths.setdefault(letter, []).append(turn)
    for letter, path in sorted(paths.items()):
        paint = paints[letter]
        ends = {"stroke_linecap": "round"}
        canvas.stroke("".join(path), paint.mix(_shadow(paint), 0.45), 0.34 * tall, **ends)
        canvas.stroke("".join(path), paint, 0.24 * tall, **ends)
