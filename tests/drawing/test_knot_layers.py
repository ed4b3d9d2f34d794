"""Whatever the curves: a gap for every crossing, and on top what the model says is on top."""

from __future__ import annotations

import io
from dataclasses import dataclass, field, replace
from itertools import combinations, pairwise

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st
from PIL import Image

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.knot.paint import Layers, layered, paint, sheets
from publisher.drawing.knot.pen import DETAILS, CordColours, SvgPen
from publisher.drawing.knot.scene import PicturedCord, scene
from publisher.knots import load_knots
from publisher.knots.crossings import Crossing
from publisher.knots.curve import Curve, Point, smooth_curve
from publisher.model.colour import Colour
from tests.support.cairo_library import cairosvg, needs_cairo

KNOTS = load_knots()
STAGES = [(name, number) for name, knot in KNOTS.items() for number in range(len(knot.stages))]
NAMES = "ABCD"
TONES = ("#d02020", "#20a020", "#2040d0", "#c0a000", "#a020a0", "#20a0a0", "#604020", "#808080")
GROUND = Colour.from_hex("#ffffff")
SCALE, PIXELS = 300.0, 10.0
"""What the pen draws to a cord diameter, and the pixels it becomes."""


@dataclass
class Record:
    """A pen that notes what it is asked to draw."""

    gaps: list[tuple[str, float, float]] = field(default_factory=list)
    cords: list[tuple[str, float, float, int]] = field(default_factory=list)
    arrows: list[str] = field(default_factory=list)
    layer: int = 0

    def gap(self, drawn: PicturedCord, start: float, end: float, width: float) -> None:
        self.gaps.append((drawn.name, start, end))

    def cord(self, drawn: PicturedCord, start: float, end: float) -> None:
        self.cords.append((drawn.name, start, end, self.layer))

    def arrow(self, drawn: PicturedCord, tip: complex, way: complex) -> None:
        self.arrows.append(drawn.name)

    def guide(self, drawn: PicturedCord) -> None:
        self.arrows.append(drawn.name)

    def end_layer(self) -> None:
        self.layer += 1


def stage_layers(name: str, number: int) -> Layers:
    knot = KNOTS[name]
    stage = knot.stages[number]
    form = knot.tight if stage.finished and knot.tight else knot.loose
    return layered(scene(form, stage))


def recorded(layers: Layers) -> Record:
    record = Record()
    paint(layers, record, 0.14)
    return record


points = st.tuples(st.integers(-6, 6), st.integers(-6, 6), st.integers(-3, 3))
lines = st.lists(st.lists(points, min_size=2, max_size=6), min_size=1, max_size=4)


def curves(drawn: list[list[tuple[int, int, int]]]) -> list[PicturedCord]:
    found = []
    for name, line in zip(NAMES, drawn, strict=False):
        kept: list[Point] = []
        for x, y, z in line:
            if all(abs(p.x - x) + abs(p.y - y) > 1.5 for p in kept):
                kept.append(Point(x, y, z / 2 + 0.1 * NAMES.index(name)))
        assume(len(kept) >= 2)
        found.append(PicturedCord(name, "working", smooth_curve(kept), 1.0))
    assume(not any(_along(one, other) for one, other in _neighbours(drawn)))
    return found


def _neighbours(
    drawn: list[list[tuple[int, int, int]]],
) -> list[tuple[tuple[complex, complex], tuple[complex, complex]]]:
    """Every two straight ways between points of different cords."""
    ways = [[(complex(*a[:2]), complex(*b[:2])) for a, b in pairwise(line)] for line in drawn]
    pairs = [
        (one, other) for first, second in combinations(ways, 2) for one in first for other in second
    ]
    return pairs or [((0j, 1 + 0j), (1j, 1 + 1j))]


def _along(one: tuple[complex, complex], other: tuple[complex, complex]) -> bool:
    """Does a way lie along another? Such cords touch: a knot file that has them is refused."""
    start, way = one[0], one[1] - one[0]
    if not way:
        return False
    places = [(point - start) / way for point in other]
    on_line = all(abs(place.imag) < 1e-9 for place in places)
    reals = sorted(place.real for place in places)
    return on_line and reals[0] < 1 and reals[1] > 0


@given(lines)
@settings(max_examples=150, deadline=None)
def test_any_curves_have_as_many_gaps_as_crossings(
    drawn: list[list[tuple[int, int, int]]],
) -> None:
    layers = layered(curves(drawn))
    record = recorded(layers)
    assert len(record.gaps) == len(layers.crossings)
    _covered(layers, record)


def _covered(layers: Layers, record: Record) -> None:
    """Every cord is drawn from end to end, just once."""
    for cord in layers.cords:
        parts = [(start, end) for name, start, end, _ in record.cords if name == cord.name]
        for before, after in zip(sorted(parts), sorted(parts)[1:], strict=False):
            assert before[1] == pytest.approx(after[0])
        assert min(parts)[0] == 0
        assert max(parts)[1] == pytest.approx(cord.curve.segments)


@pytest.mark.parametrize(("name", "number"), STAGES)
def test_every_stage_has_as_many_gaps_as_crossings(name: str, number: int) -> None:
    layers = stage_layers(name, number)
    record = recorded(layers)
    assert len(record.gaps) == len(layers.crossings)
    _covered(layers, record)


@pytest.mark.parametrize(("name", "number"), STAGES)
def test_the_upper_cord_of_every_crossing_is_drawn_after_the_lower(name: str, number: int) -> None:
    layers = stage_layers(name, number)
    record = recorded(layers)
    for crossing in layers.crossings:
        assert _layer(record, crossing.over) > _layer(record, crossing.under)


def _layer(record: Record, place: object) -> int:
    return next(
        layer
        for name, start, end, layer in record.cords
        if name == place.strand and start <= place.u <= end  # type: ignore[attr-defined]
    )


def pixels(layers: Layers) -> tuple[Image.Image, complex]:
    """The picture with each strand in one flat colour, and where the origin lies in it."""
    tones = {cord.name: tone for cord, tone in zip(layers.cords, TONES, strict=False)}

    def flat(drawn: PicturedCord, quiet: bool) -> CordColours:
        tone = Colour.from_hex(tones[drawn.name])
        return CordColours((tone, tone, tone, tone), None, tone, quiet)

    places = [xy for cord in layers.cords for xy in cord.curve.plane]
    left, top = min(p.real for p in places) - 2, min(p.imag for p in places) - 2
    right, bottom = max(p.real for p in places) + 2, max(p.imag for p in places) + 2
    origin = complex(-left, -top) * SCALE
    canvas = FigureCanvas(fill="none", stroke_linejoin="round")
    paint(layers, SvgPen(canvas, SCALE, origin, GROUND, flat, DETAILS[0]), 0.14)
    width, height = round((right - left) * SCALE), round((bottom - top) * SCALE)
    pixel = PIXELS / SCALE
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width} {height}"'
        f' width="{round(width * pixel)}" height="{round(height * pixel)}">'
        f'<path d="M0 0H{width}V{height}H0Z" fill="#ffffff"/>{canvas.svg()}</svg>'
    )
    picture = Image.open(io.BytesIO(cairosvg.svg2png(bytestring=svg.encode())))
    return picture.convert("RGB"), origin * pixel


def _at_an_end(layers: Layers, crossing: Crossing) -> bool:
    """Whether a cord ends so near that it does not reach across the other."""
    ends = [cord.curve.plane[k] for cord in layers.cords for k in (0, -1)]
    return min(abs(end - crossing.place) for end in ends) < 1


def _on_top(layers: Layers, crossing: Crossing) -> bool:
    """Whether the two cords of a crossing pass it once, and no other comes over it."""
    passes = {p.strand: p.u for p in (crossing.over, crossing.under)}
    for cord in layers.cords:
        here = passes.get(cord.name)
        for k, xy in enumerate(cord.curve.samples(60)[0]):
            if abs(xy - crossing.place) < cord.diameter / 2 + 0.3:
                way = cord.way_at(k / 60)
                if here is None or abs(cord.way_at(here) - way) > 1.5 * cord.diameter:
                    return False
    return True


def _stays_over(layers: Layers, crossing: Crossing) -> bool:
    """Whether the upper cord of a crossing is the nearer one wherever the two cover each other
    there: where it dips through the other, each is on top of a part."""
    points = []
    for passed in (crossing.over, crossing.under):
        (cord,) = (one for one in layers.cords if one.name == passed.strand)
        plane, height = cord.curve.samples(60)
        places = zip(plane, height, strict=True)
        points.append([(xy, z) for xy, z in places if abs(xy - crossing.place) < 1.5])
    over, under = points
    return all(z > low for xy, z in over for place, low in under if abs(xy - place) < 1)


def _off(seen: tuple[int, ...], tone: str) -> int:
    colour = Colour.from_hex(tone)
    wanted = (colour.red, colour.green, colour.blue)
    return sum(abs(one - other) for one, other in zip(seen, wanted, strict=True))


def _seen_as_said(layers: Layers, least_gap: float = 0.2) -> int:
    """Compare the pixel on each clear crossing of two strands with the model; how many."""
    picture, origin = pixels(layers)
    tones = {cord.name: tone for cord, tone in zip(layers.cords, TONES, strict=False)}
    compared = 0
    for crossing in layers.crossings:
        over, under = crossing.over.strand, crossing.under.strand
        if over == under or crossing.gap < least_gap or crossing.sine < 0.4:
            continue
        if _at_an_end(layers, crossing) or not _on_top(layers, crossing):
            continue
        if not _stays_over(layers, crossing):
            continue
        at = crossing.place * PIXELS + origin
        seen = picture.getpixel((round(at.real), round(at.imag)))
        assert _off(seen, tones[over]) < 12, (over, under, crossing.place, seen)
        compared += 1
    return compared


LONG_STEPS = [
    [(0, 0, 0), (1, -1, -1)],
    [(2, 5, 0), (2, 2, 0), (1, -5, 0), (2, 0, 1)],
    [(3, 1, 0), (0, 5, 0), (2, 0, -1), (-5, 0, 0)],
    [(0, 0, 0), (0, 2, 0), (0, -4, 0)],
]
"""The second line has a piece of 1.7 diameters, which reaches far from its middle."""


RING = [
    [(-3, 6, -1), (-2, -6, 2), (0, 0, -1), (-6, -3, 2), (1, -3, -2), (3, -5, 2)],
    [(4, 3, 1), (-5, 3, -2), (-3, 4, -3), (5, 4, -3), (-1, 3, 0)],
    [(1, 6, 2), (1, 3, 1), (-1, -5, -2), (3, -3, 0), (2, -2, 1)],
    [(-4, -6, 0), (6, -3, 0), (-3, -2, -3), (1, 1, -1), (0, -4, -3), (2, 6, 3)],
]
"""Pieces of the first and of the last two lie over one another in a ring."""


@needs_cairo
@given(lines)
@example(LONG_STEPS)
@example(RING)
@settings(max_examples=30, deadline=None)
def test_the_strand_on_top_in_the_pixels_is_the_one_that_the_model_says(
    drawn: list[list[tuple[int, int, int]]],
) -> None:
    cords = curves(drawn)
    assume(len(cords) > 1)
    _seen_as_said(layered(cords))


def test_cords_that_cross_at_a_right_angle_give_a_strip_whatever_the_arithmetic_adds() -> None:
    """The sine of a right angle may come out a hair more than 1."""
    lines = [Point(0, -2, 0), Point(0, 2, 0)], [Point(-2, 0, 1), Point(2, 0, 1)]
    found = layered(
        [
            PicturedCord(name, "working", smooth_curve(line), 1.0)
            for name, line in zip("AB", lines, strict=True)
        ]
    )
    over = [replace(one, sine=1.0 + 2e-16) for one in found.crossings]
    assert len(over) == 1
    layers = sheets(replace(found, crossings=over), 0.1)
    (strip,) = (strip for layer in layers for strip in layer.strips)
    assert 0 < strip.end - strip.start < 1


@needs_cairo
@pytest.mark.parametrize(
    "name", ["larks-head", "vertical-double-half-hitch", "half-knot", "square-knot"]
)
def test_the_drawn_knots_show_on_top_what_the_model_says(name: str) -> None:
    knot = KNOTS[name]
    whole = [
        PicturedCord(strand.name, strand.role, strand.curve, strand.diameter)
        for strand in knot.loose.strands.values()
    ]
    assert _seen_as_said(layered(whole)) > 2


def test_cords_side_by_side_do_not_cross() -> None:
    one = Curve((0j, 1j, 2j, 3j), (0, 0, 0, 0))
    other = Curve((1 + 0j, 1 + 1j, 1 + 2j, 1 + 3j), (0, 0, 0, 0))
    layers = layered(
        [PicturedCord("A", "filler", one, 1.0), PicturedCord("B", "filler", other, 1.0)]
    )
    assert not layers.crossings
    assert {run.layer for run in layers.runs} == {0}
