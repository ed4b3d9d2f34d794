"""Draw a knot stage by stage: one figure a stage, the finished knot last."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from publisher.colour import Colour
from publisher.drawing.figure import Figure
from publisher.drawing.knot_colours import cord_colours
from publisher.drawing.knot_paint import paint
from publisher.drawing.knot_scene import Drawn, scene
from publisher.drawing.look import Look
from publisher.drawing.numbers import number
from publisher.drawing.pen import PathElement, SvgPen
from publisher.fonts import svg_font, text_width_mm
from publisher.knots import Knot
from publisher.knots.model import Box, Form, Stage, Strand

GAP = 0.14
"""Open strip on each side of an upper cord, in cord diameters, in the loose and the tight form."""
TIGHT_GAP = 0.07
_SIDE_MM, _TOP_MM, _FOOT_MM = 1.6, 4.0, 6.2
_MM_PER_PT = 25.4 / 72


def draw_knot_stages(
    knot: Knot,
    look: Look,
    width_mm: float,
    height_mm: float,
    *,
    hand: Literal["right", "left"] = "right",
    strands: int = 2,
    working: Colour | None = None,
    second: Colour | None = None,
    fillers: Colour | None = None,
) -> tuple[Figure, ...]:
    """One figure of the given size a stage, each with its panel, number and labels.

    `hand` "left" draws the mirror image. `strands` is how many filler cords run through a knot
    that has fillers, 1 to 4; print the words of `knot.with_fillers(strands)` under the figures.
    The colours, where given, take the look's place, but never in a mono look.
    """
    knot = knot.with_fillers(strands)
    if hand == "left":
        knot = knot.mirrored()
    given = {"working": working, "second": second, "filler": fillers}
    chosen = {role: colour for role, colour in given.items() if colour is not None}
    panel = _Panel(look, width_mm, height_mm, chosen)
    return tuple(
        Figure(panel.draw(knot, stage, number_), width_mm, height_mm, stage.alt)
        for number_, stage in enumerate(knot.stages, 1)
    )


class _Panel:
    """Draws stages on panels of one size and look."""

    def __init__(
        self, look: Look, width_mm: float, height_mm: float, chosen: dict[str, Colour]
    ) -> None:
        self.look = look
        self.width, self.height = width_mm, height_mm
        self.ground = look.colours["figure"]
        self.colours = cord_colours(look, chosen)
        self.label = look.type["figure-label"]

    def draw(self, knot: Knot, stage: Stage, stage_number: int) -> str:
        form = knot.tight if stage.finished and knot.tight else knot.loose
        scale, origin = self._fit(form.view)
        pen = SvgPen(scale * 100, origin * 100, self.ground, self.colours)
        cords = scene(form, stage)
        paint(cords, pen, TIGHT_GAP if stage.finished else GAP)
        inner = "".join(_path(element) for element in pen.elements)
        return "".join(
            [
                f'<path d="M0 0H{number(self.width)}V{number(self.height)}H0Z"'
                f' fill="{self.ground.hex}"/>',
                f'<g transform="scale(.01)" stroke-linejoin="round">{inner}</g>',
                *self._labels(form, stage, cords, scale, origin),
                *self._disc(str(stage_number)),
            ]
        )

    def _fit(self, view: Box) -> tuple[float, complex]:
        """Scale (mm a cord diameter) and the place of the knot's origin (mm)."""
        wide = self.width - 2 * _SIDE_MM
        high = self.height - _TOP_MM - _FOOT_MM
        scale = min(wide / view.width, high / view.height)
        middle = complex(self.width / 2, _TOP_MM + high / 2)
        return scale, middle - view.centre * scale

    def _labels(
        self, form: Form, stage: Stage, cords: tuple[Drawn, ...], scale: float, origin: complex
    ) -> Iterator[str]:
        for drawn in cords:
            strand = form.strands[drawn.name]
            at = stage.labels.get(drawn.name, strand.label_at)
            if strand.label and at is not None:
                yield self._label(strand, drawn, at * scale + origin)

    def _label(self, strand: Strand, drawn: Drawn, at: complex) -> str:
        knotting = strand.role in ("working", "second")
        colour = self.colours(drawn, False).arrow if knotting else self.look.colours["soft"]
        face = "bold" if knotting else self.label.face
        size = self.label.size_pt * (1.15 if knotting else 1)
        return _text(strand.label, at, face, size, colour)

    def _disc(self, words: str) -> Iterator[str]:
        """The stage's number, in white on a disc of ink."""
        size_pt = self.label.size_pt * 11 / 9
        radius = 2.6 * size_pt / 11
        at = complex(radius + 1.8, radius + 1.8)
        yield f'<path d="{_circle(at, radius)}" fill="{self.look.colours["ink"].hex}"/>'
        yield _text(words, at, "bold", size_pt, self.look.colours["paper"])


def _path(element: PathElement) -> str:
    attributes = "".join(f' {name}="{value}"' for name, value in element.attributes.items())
    return f'<path d="{element.data}"{attributes}/>'


def _text(words: str, middle: complex, face: str, size_pt: float, colour: Colour) -> str:
    """One word centred on a place, in both ways."""
    size_mm = size_pt * _MM_PER_PT
    x = middle.real - text_width_mm(words, face, size_pt) / 2
    y = middle.imag + 0.33 * size_mm
    font = "".join(f' {name}="{value}"' for name, value in svg_font(face).items())
    return (
        f'<text x="{number(x)}" y="{number(y)}" font-size="{number(size_mm)}"{font}'
        f' fill="{colour.hex}">{words}</text>'
    )


def _circle(at: complex, radius: float) -> str:
    """A circle as four Bézier quarters."""
    k = 0.5523 * radius
    x, y, r = at.real, at.imag, radius
    quarters = [
        (x + r, y + k, x + k, y + r, x, y + r),
        (x - k, y + r, x - r, y + k, x - r, y),
        (x - r, y - k, x - k, y - r, x, y - r),
        (x + k, y - r, x + r, y - k, x + r, y),
    ]
    curves = "".join("C" + " ".join(number(v) for v in quarter) for quarter in quarters)
    return f"M{number(x + r)} {number(y)}{curves}Z"
