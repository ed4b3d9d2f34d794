"""Draw a knot stage by stage: one figure a stage, the finished knot last."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.numbers import number
from publisher.drawing.base.shapes import circle, svg_path
from publisher.drawing.knot.colours import cord_colours
from publisher.drawing.knot.labels import Label, kept_apart
from publisher.drawing.knot.paint import layered, paint
from publisher.drawing.knot.pen import DETAILS, PATHS, UNIT_MM, SvgPen
from publisher.drawing.knot.scene import PicturedCord, scene
from publisher.knots import Knot
from publisher.knots.model import KnotForm, Stage, Strand, ViewBox
from publisher.knots.refill import with_fillers
from publisher.knots.turn import mirror_knot
from publisher.model.colour import Colour
from publisher.model.figure import Figure
from publisher.model.look import Look

GAP = 0.14
"""Open strip on each side of an upper cord, in cord diameters, in the loose and the tight form."""
TIGHT_GAP = 0.07
_SIDE_MM, _TOP_MM, _FOOT_MM = 1.6, 4.0, 6.2
_CLEAR_MM = 0.5
THIN_MM = (2.4, 1.6)
"""Cords thinner than this are drawn in less detail, and in least."""
MOST_BYTES = 24_500
"""A larger figure is drawn again in less detail."""


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
    that has fillers, 1 to 4; print the words of `with_fillers(knot, strands)` under the figures.
    The colours, where given, take the look's place, but never in a mono look.
    """
    knot = with_fillers(knot, strands)
    if hand == "left":
        knot = mirror_knot(knot)
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
        """The panel's SVG, with as much detail as its size on paper and in bytes allows."""
        form = knot.tight if stage.finished and knot.tight else knot.loose
        scale, origin = self._fit(stage.view or form.view)
        layers = layered(scene(form, stage))
        gap = TIGHT_GAP if stage.finished else GAP
        svg = ""
        for detail in DETAILS[sum(scale < thin for thin in THIN_MM) :]:
            canvas = FigureCanvas()
            canvas.fill(f"M0 0H{number(self.width)}V{number(self.height)}H0Z", self.ground)
            inner = canvas.group(**PATHS)
            pen = SvgPen(
                inner, scale / UNIT_MM, origin / UNIT_MM, self.ground, self.colours, detail
            )
            paint(layers, pen, gap)
            for label in self._labels(form, stage, layers.cords, scale, origin):
                _word(canvas, label)
            self._disc(canvas, str(stage_number))
            svg = canvas.svg()
            if len(svg) <= MOST_BYTES:
                break
        return svg

    def _labels(
        self,
        form: KnotForm,
        stage: Stage,
        cords: Sequence[PicturedCord],
        scale: float,
        origin: complex,
    ) -> list[Label]:
        labels = []
        for drawn in cords:
            strand = form.strands[drawn.name]
            at = stage.labels.get(drawn.name, strand.label_at)
            if strand.label and at is not None:
                labels.append(self._label(strand, drawn, at * scale + origin))
        return kept_apart(labels, self.width, self.height)

    def _fit(self, view: ViewBox) -> tuple[float, complex]:
        """Scale (mm a cord diameter) and the place of the knot's origin (mm)."""
        wide = self.width - 2 * _SIDE_MM
        high = self.height - _TOP_MM - _FOOT_MM
        scale = min(wide / view.width, high / view.height)
        middle = complex(self.width / 2, _TOP_MM + high / 2)
        return scale, middle - view.centre * scale

    def _label(self, strand: Strand, drawn: PicturedCord, at: complex) -> Label:
        knotting = strand.role in ("working", "second")
        colour = self.colours(drawn, False).arrow if knotting else self.look.colours["soft"]
        face = "bold" if knotting else self.label.face
        size = self.label.size_pt * (1.15 if knotting else 1)
        return self._clear_of_disc(Label(strand.label, at, face, size, colour))

    def _disc_place(self) -> tuple[float, float, complex]:
        """The size of the stage's number in pt; the radius and middle of its disc."""
        size_pt = self.label.size_pt * 11 / 9
        radius = 2.6 * size_pt / 11
        return size_pt, radius, complex(radius + 1.8, radius + 1.8)

    def _clear_of_disc(self, label: Label) -> Label:
        """A label moved down where it would touch the disc."""
        _, radius, disc = self._disc_place()
        reach = disc + complex(radius + _CLEAR_MM, radius + _CLEAR_MM)
        across = reach.real + label.width_mm / 2 - label.middle.real
        down = reach.imag + label.height_mm / 2 - label.middle.imag
        if across <= 0 or down <= 0:
            return label
        return replace(label, middle=label.middle + complex(0, down))

    def _disc(self, canvas: FigureCanvas, words: str) -> None:
        """The stage's number, in white on a disc of ink."""
        size_pt, radius, at = self._disc_place()
        canvas.fill(svg_path([circle(radius, at.real, at.imag)]), self.look.colours["ink"])
        _word(canvas, Label(words, at, "bold", size_pt, self.look.colours["paper"]))


def _word(canvas: FigureCanvas, label: Label) -> None:
    """One word centred on a place, in both ways."""
    middle = label.middle
    base = middle.imag + label.height_mm / 2
    canvas.text(middle.real, base, label.words, label.face, label.size_pt, label.colour, "middle")
