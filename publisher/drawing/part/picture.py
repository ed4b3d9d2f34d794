"""Draw a finished part as it looks: its knots close together, its ends as they were cut.

What lays and paints it is imported when there is one: most patterns have none.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cached_property
from typing import TYPE_CHECKING, Literal

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import number
from publisher.frozen import frozen
from publisher.knots import Knot
from publisher.model.colour import BLACK, Colour
from publisher.model.figure import Figure
from publisher.model.look import Look
from publisher.model.part_plan import StepsPlan
from publisher.model.pattern import YarnColour
from publisher.model.reach import Box
from publisher.store import NO_STORE, Store, digest_of_values

if TYPE_CHECKING:
    from publisher.drawing.part.lay import Lay
    from publisher.drawing.part.paint import CordGroup

Knots = Callable[[str], Knot]
Told = tuple[object, ...]
Ends = Literal["short", "whole", "behind"]
"""How ends are drawn that were not cut: a little of each, all of it, or not, as they have gone to
the back of another piece."""

_END = 4.0
"""How long ends are drawn that were not cut, in diameters."""
_SHADOW, _FAR_SHADOW = 0.62, 0.35
FAR_MM = 1.2
"""Cords thinner than this are seen from far off: their lines run together."""
_MARGIN = 0.4
_MOST_LAID_OUT = 8
"""Parts that are remembered as they lie, with all their curves, a MB or two each."""


@frozen(slots=False)
class PartPicture:
    """A finished part, to be painted at any scale; `knots` are those that it has. It is laid out
    when that is first asked for.

    In diameters: its box (left, top, right, bottom), and where it is fastened by its top or by its
    tails.
    """

    part: StepsPlan
    knots: tuple[Knot, ...]
    ends: Ends

    @cached_property
    def told(self) -> str:
        """The same for those that look the same, but for colours and size."""
        return digest_of_values((part_told(self.part, self.knots), self.ends))

    @cached_property
    def _laid(self) -> tuple[Lay, complex, Box]:
        knots = {knot.name: knot for knot in self.knots}
        return _lay_out(self.part, knots.__getitem__, self.ends)

    @cached_property
    def _cords(self) -> tuple[CordGroup, ...]:
        from publisher.drawing.part.paint import cords_of

        return cords_of(self._laid[0], quiet=False)

    @cached_property
    def box(self) -> Box:
        from publisher.drawing.part.states import bounds

        return bounds(self._laid[0])

    @property
    def top(self) -> complex:
        return complex((self.box[0] + self.box[2]) / 2, self.box[1])

    @property
    def tails(self) -> complex:
        return self._laid[1]

    @property
    def diameter_mm(self) -> float:
        """The size of a diameter of the drawing, so that what is knotted has its true size."""
        left, top, right, bottom = self._laid[2]
        return min(self.part.width_mm / (right - left), self.part.height_mm / (bottom - top))

    def paint(
        self,
        canvas: FigureCanvas,
        colours: Sequence[YarnColour],
        look: Look,
        scale: float,
        origin: complex,
    ) -> None:
        """Paint it `scale` mm to the diameter, its own origin at a place on paper."""
        from publisher.drawing.part.paint import Painted, paint_cords, part_palette

        far = scale < FAR_MM
        palette = part_palette(self.part, colours, look, far=far)
        ground = self._shadow(colours, look, _FAR_SHADOW if far else _SHADOW)
        told = self.told, paint_told(self.part, colours, look), scale
        painted = Painted(digest_of_values(told))
        paint_cords(canvas, self._cords, palette, ground, scale, origin, painted)

    def _shadow(self, colours: Sequence[YarnColour], look: Look, dark: float) -> Colour:
        """Return what is seen between cords that lie on one another."""
        if look.mono:
            return look.colours["ink"]
        letter = self.part.cords[0].colour
        paint = next(colour.srgb for colour in colours if colour.letter == letter)
        return paint.mix(BLACK, dark)


_pictures: dict[str, PartPicture] = {}


def lay_out_part(part: StepsPlan, knots: Knots, ends: Ends = "short") -> PartPicture:
    """The finished part."""
    picture = PartPicture(part, knots_of(part, knots), ends)
    known = _pictures.pop(picture.told, picture)
    _pictures[picture.told] = known
    if len(_pictures) > _MOST_LAID_OUT:
        del _pictures[next(iter(_pictures))]
    return known


def knots_of(part: StepsPlan, knots: Knots) -> tuple[Knot, ...]:
    """The knots that a part has, mounting included."""
    names = {cord.knot for cord in part.cords} | {step.knot for step in part.steps}
    return tuple(knots(name) for name in sorted(names) if name)


def part_told(part: StepsPlan, knots: Sequence[Knot]) -> Told:
    """A part and its knots, for what a drawing is known by."""
    return part.digest, tuple(knot.digest for knot in knots)


def paint_told(part: StepsPlan, colours: Sequence[YarnColour], look: Look) -> Told:
    """Return what the drawing of a part takes from colours and look: look.py has more, that it does
    not ask for."""
    letters = {cord.colour for cord in part.cords}
    paints = tuple((one.letter, one.srgb) for one in colours if one.letter in letters)
    return paints, look.of_figures


def _lay_out(part: StepsPlan, knots: Knots, ends: Ends) -> tuple[Lay, complex, Box]:
    """A part laid out, where its tails are, and the box of what is knotted."""
    from publisher.drawing.part.events import Layer
    from publisher.drawing.part.lay import SNUG
    from publisher.drawing.part.mount import lay_mount
    from publisher.drawing.part.states import bounds, new_lay

    lay = new_lay(part)
    layer = Layer(lay, knots, whole=True)
    lay_mount(part, lay, knots)
    for step in part.steps:
        layer.step(step)
    hanging = [leg for leg in lay.order if leg not in lay.ended]
    tails, knotted = complex(0, max(lay.at(leg).y for leg in lay.ways)), bounds(lay)
    if hanging:
        xs = [lay.at(leg).x for leg in hanging]
        tails = complex(sum(xs) / len(xs), lay.lowest(hanging))
        if ends != "behind":
            if max(xs) - min(xs) < 3 * SNUG * len(xs):
                lay.snug(hanging)
            length = _END if ends == "short" else part.ends_mm / lay.unit_mm
            bottom = lay.lowest(hanging) + length
            for leg in hanging:
                lay.drop_to(leg, lay.at(leg).x, bottom)
    return lay, tails, knotted


def draw_part(
    part: StepsPlan,
    colours: Sequence[YarnColour],
    knots: Knots,
    look: Look,
    width_mm: float,
    height_mm: float,
    *,
    lying: bool = False,
    store: Store = NO_STORE,
) -> Figure:
    """The finished part as large as a box allows; lying, its beginning is on the left."""
    picture = lay_out_part(part, knots)
    return draw_picture(picture, colours, look, width_mm, height_mm, lying=lying, store=store)


def draw_picture(
    picture: PartPicture,
    colours: Sequence[YarnColour],
    look: Look,
    width_mm: float,
    height_mm: float,
    *,
    lying: bool = False,
    largest: float | None = None,
    store: Store = NO_STORE,
) -> Figure:
    """A part as large as a box allows, no more than `largest` times its size."""
    shown = "part", picture.told, paint_told(picture.part, colours, look)
    told = *shown, width_mm, height_mm, lying, largest

    def draw() -> Figure:
        return _draw(picture, colours, look, width_mm, height_mm, lying, largest)

    return store.get(told, draw, Figure.weight)


def _draw(
    picture: PartPicture,
    colours: Sequence[YarnColour],
    look: Look,
    width_mm: float,
    height_mm: float,
    lying: bool,
    largest: float | None,
) -> Figure:
    left, top, right, bottom = picture.box
    wide, tall = right - left + 2 * _MARGIN, bottom - top + 2 * _MARGIN
    across, down = (tall, wide) if lying else (wide, tall)
    scale = min(width_mm / across, height_mm / down)
    if largest is not None:
        scale = min(scale, largest * picture.diameter_mm)
    canvas = FigureCanvas()
    turned = canvas
    if lying:
        turned = canvas.group(transform=f"translate(0 {number(wide * scale)}) rotate(-90)")
    origin = complex(_MARGIN - left, _MARGIN - top) * scale
    picture.paint(turned, colours, look, scale, origin)
    return canvas.figure(across * scale, down * scale)
