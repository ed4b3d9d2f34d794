"""List the figures of a pattern that stand for themselves, each by the name of its file."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import partial

from publisher.drawing import (
    draw_chart_tile,
    draw_hanging,
    draw_part,
    draw_whole_back,
    place_parts,
    plan_tiles,
)
from publisher.frozen import frozen
from publisher.knots import Knot, KnotLibrary
from publisher.manuscript.edition import house_look
from publisher.manuscript.handedness import procedure_hand, worked_hands
from publisher.manuscript.knot_figures import knot_stages
from publisher.manuscript.options import Hand, Options
from publisher.manuscript.sections.glossary import titled
from publisher.manuscript.sections.procedures import needed_procedures
from publisher.manuscript.words import Words, read_words
from publisher.model.colour import Colour
from publisher.model.figure import Figure
from publisher.model.look import Look
from publisher.model.part_plan import StepsPlan
from publisher.model.plan import ChartPlan, Plan
from publisher.store import NO_STORE, Store
from publisher.templates import Templates

_ENDLESS_MM = 1e5
"""A chart that need not fit on a page is not cut."""
_PIECE_MM = 200.0
"""The longer side of a finished piece, as in the picture for a shop."""
_MARGIN_MM = 2.0
"""So that no line at a figure's edge is cut off; panels have an edge of their own."""


@frozen
class LoneFigure:
    """A figure to be put on a ground, with a margin round it; its `alt` describes it."""

    title: str
    figure: Figure
    margin_mm: float
    ground: Colour
    language: str

    @property
    def size_mm(self) -> tuple[float, float]:
        """Width and height, the margin included."""
        around = 2 * self.margin_mm
        return self.figure.width_mm + around, self.figure.height_mm + around


Draw = Callable[[], LoneFigure]


@frozen
class _Drawer:
    plan: Plan
    knots: KnotLibrary
    look: Look
    words: Words
    title: str
    store: Store

    def lone(self, title: str, figure: Figure, margin_mm: float) -> LoneFigure:
        ground = self.look.colours["paper"]
        return LoneFigure(title, figure, margin_mm, ground, self.words.language)


def lone_figures(
    plan: Plan, knots: KnotLibrary, templates: Templates, store: Store = NO_STORE
) -> Mapping[str, Draw]:
    """Return what draws each figure of a plan, by the figure's name.

    `chart-PIECE`, `finished-PIECE` and `back-PIECE` of what is worked from a chart, `part-PIECE` of
    what is knotted in steps, and `knot-NAME-STAGE`; a knot that is worked both ways is there twice,
    as `knot-NAME-to-right-STAGE` and `knot-NAME-to-left-STAGE`. TemplateError where the look is
    wrong.
    """
    look, words = house_look(templates, "a4"), read_words(templates)
    drawer = _Drawer(plan, knots, look, words, plan.title, store)
    return dict(_figures(drawer))


def _figures(drawer: _Drawer) -> Iterator[tuple[str, Draw]]:
    plan = drawer.plan
    for chart in plan.charts:
        yield f"chart-{chart.id}", partial(_chart, drawer, chart)
        yield f"finished-{chart.id}", partial(_finished, drawer, chart)
        yield f"back-{chart.id}", partial(_back, drawer, chart)
    for part in plan.parts:
        yield f"part-{part.id}", partial(_part, drawer, part)
    for name in dict.fromkeys((*plan.knot_names, *needed_procedures(plan.charts))):
        yield from _knot(drawer, drawer.knots[name])


def _chart(drawer: _Drawer, chart: ChartPlan) -> LoneFigure:
    look = drawer.look
    ratio = chart.cell.width_mm / chart.cell.height_mm
    tiles = plan_tiles(chart.columns, chart.rows, _ENDLESS_MM, _ENDLESS_MM, ratio, look)
    places = tuple(
        step.placement
        for step in drawer.plan.assembly
        if step.placement and step.placement.piece == chart.id
    )
    words = drawer.words.under("chart")
    colours, store = drawer.plan.colours, drawer.store
    figure = draw_chart_tile(chart, colours, tiles, 1, look, words, places, store)
    alt = drawer.words("figures.chart_alt", columns=chart.columns, rows=chart.rows)
    return _of_piece(drawer, "chart", chart.id, figure.with_alt(alt))


def _finished(drawer: _Drawer, chart: ChartPlan) -> LoneFigure:
    placed = place_parts(drawer.plan, chart.id, drawer.knots.__getitem__)
    size = (_PIECE_MM, _PIECE_MM)
    colours, store = drawer.plan.colours, drawer.store
    figure = draw_hanging(chart, colours, drawer.look, *size, placed, store=store)
    size_words = {"columns": chart.columns, "rows": chart.rows}
    alt = drawer.words("cover.alt", title=drawer.title, **size_words)
    return _of_piece(drawer, "finished", chart.id, figure.with_alt(alt))


def _back(drawer: _Drawer, chart: ChartPlan) -> LoneFigure:
    words = drawer.words.under("backmap")
    figure = draw_whole_back(chart, drawer.plan.colours, drawer.look, words)
    return _of_piece(drawer, "back", chart.id, figure)


def _part(drawer: _Drawer, part: StepsPlan) -> LoneFigure:
    find, size = drawer.knots.__getitem__, (_PIECE_MM, _PIECE_MM)
    colours, store = drawer.plan.colours, drawer.store
    figure = draw_part(part, colours, find, drawer.look, *size, store=store)
    name = part.id.replace("-", " ")
    alt = drawer.words("parts.alt_whole", name=name[0].upper() + name[1:])
    return _of_piece(drawer, "part", part.id, figure.with_alt(alt))


def _of_piece(drawer: _Drawer, kind: str, piece: str, figure: Figure) -> LoneFigure:
    names = {"title": drawer.title, "piece": piece.replace("-", " ")}
    return drawer.lone(drawer.words(f"figures.{kind}", **names), figure, _MARGIN_MM)


def _knot(drawer: _Drawer, knot: Knot) -> Iterator[tuple[str, Draw]]:
    charts = drawer.plan.charts
    chart = next((chart for chart in charts if chart.piece.knot == knot.name), None)
    hands = worked_hands(chart) if chart else (procedure_hand(charts, knot, "right"),)
    strands = chart.piece.cords.strands if chart else 2
    for hand in hands:
        name = f"knot-{knot.name}-to-{hand}" if len(hands) > 1 else f"knot-{knot.name}"
        key = f"figures.knot_to_{hand}" if len(hands) > 1 else "figures.knot"
        count = len(knot.stages)
        for number in range(1, count + 1):
            padded = str(number).zfill(len(str(count)))
            draw = partial(_stage, drawer, knot, hand, strands, number, key)
            yield f"{name}-{padded}", draw


def _stage(
    drawer: _Drawer, knot: Knot, hand: Hand, strands: int, number: int, key: str
) -> LoneFigure:
    usual_mm = Options().knot_figure_mm
    figures, _ = knot_stages(knot, drawer.look, hand, strands, usual_mm, drawer.store)
    title = drawer.words(key, knot=titled(knot), n=number, of=len(figures))
    return drawer.lone(title, figures[number - 1], 0.0)
