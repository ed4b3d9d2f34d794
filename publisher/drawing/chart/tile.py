"""Draw one tile of a chart: the figure that a maker knots from."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.base.symbols import assign_symbols
from publisher.drawing.chart.cells import paint_colours, paint_symbols
from publisher.drawing.chart.counts import long_runs, paint_counts
from publisher.drawing.chart.edges import paint_cords, paint_grid, paint_rows
from publisher.drawing.chart.overlap import paint_dashes, paint_tint, paint_words
from publisher.drawing.chart.part_places import paint_places
from publisher.drawing.chart.tiles import TilePlan
from publisher.drawing.chart.view import View
from publisher.drawing.chart.yarn_marks import paint_marks
from publisher.model.figure import Figure
from publisher.model.look import Look
from publisher.model.part_plan import Placement
from publisher.model.pattern import YarnColour
from publisher.model.plan import ChartPlan
from publisher.store import NO_STORE, Store


def draw_chart_tile(
    plan: ChartPlan,
    colours: Sequence[YarnColour],
    tiles: TilePlan,
    number: int,
    look: Look,
    words: Mapping[str, str],
    places: Sequence[Placement] = (),
    store: Store = NO_STORE,
) -> Figure:
    """Tile `number` of a chart, with rows and cords numbered all round it.

    `colours` are all colours of the pattern, so that a symbol is the same in every piece of it;
    `words` those under [chart]; `places` where parts are fastened.
    """
    made_from = plan.digest, colours, tiles, number, look.key, sorted(words.items()), places

    def draw() -> Figure:
        view = View.of(plan, tiles, number, look)
        paints = None if look.mono else {colour.letter: colour.srgb for colour in colours}
        counts = long_runs(view)
        canvas = FigureCanvas()
        paint_tint(canvas, view)
        if paints:
            paint_colours(canvas, view, paints)
        paint_symbols(canvas, view, paints, assign_symbols(colours), counts)
        paint_grid(canvas, view)
        paint_counts(canvas, view, counts)
        if look.chart.yarn_marks:
            paint_marks(canvas, view)
        paint_places(canvas, view, places)
        paint_cords(canvas, view)
        paint_rows(canvas, view, words)
        paint_dashes(canvas, view)
        paint_words(canvas, view, words)
        return canvas.figure(view.width_mm, view.height_mm, _alt(view, words))

    return store.get(("tile", *made_from), draw, Figure.weight)


def draw_cord_numbers(plan: ChartPlan, tiles: TilePlan, look: Look) -> Figure:
    """The numbers above the cords of a chart in one tile: what stays in sight on a screen."""
    view = View.of(plan, tiles, 1, look)
    canvas = FigureCanvas()
    paint_cords(canvas, view)
    return canvas.figure(view.width_mm, view.top)


def _alt(view: View, words: Mapping[str, str]) -> str:
    tile = view.tile
    return words["tile_alt"].format(
        n=tile.number,
        of=len(view.tiles.tiles),
        first_row=tile.first_row,
        last_row=tile.last_row,
        first_cord=tile.first_cord,
        last_cord=tile.last_cord,
    )
