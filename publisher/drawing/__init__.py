"""Draw what is printed: figures as SVG in mm, from parts of a plan and from knots."""

from __future__ import annotations

from typing import TYPE_CHECKING

from publisher.lazy_exports import lazy_exports

if TYPE_CHECKING:
    from publisher.drawing.back.map import draw_back_legend, draw_back_maps, draw_whole_back
    from publisher.drawing.back.parts import back_tasks
    from publisher.drawing.base.standalone import standalone_svg
    from publisher.drawing.chart.key import draw_key
    from publisher.drawing.chart.key_map import draw_key_map
    from publisher.drawing.chart.legend import draw_legend
    from publisher.drawing.chart.swatch import draw_swatch
    from publisher.drawing.chart.tile import draw_chart_tile, draw_cord_numbers
    from publisher.drawing.chart.tiles import plan_tiles
    from publisher.drawing.knot.stages import draw_knot_stages
    from publisher.drawing.part.figures import draw_part_steps
    from publisher.drawing.part.picture import draw_part
    from publisher.drawing.piece.fringe import draw_fringe_sheets, draw_fringe_template
    from publisher.drawing.piece.hanging import draw_hanging
    from publisher.drawing.piece.placed import place_parts

__all__ = [
    "back_tasks",
    "draw_back_legend",
    "draw_back_maps",
    "draw_chart_tile",
    "draw_cord_numbers",
    "draw_fringe_sheets",
    "draw_fringe_template",
    "draw_hanging",
    "draw_key",
    "draw_key_map",
    "draw_knot_stages",
    "draw_legend",
    "draw_part",
    "draw_part_steps",
    "draw_swatch",
    "draw_whole_back",
    "place_parts",
    "plan_tiles",
    "standalone_svg",
]

__getattr__ = lazy_exports(
    __name__,
    {
        "back_tasks": "back.parts",
        "draw_back_legend": "back.map",
        "draw_back_maps": "back.map",
        "draw_chart_tile": "chart.tile",
        "draw_cord_numbers": "chart.tile",
        "draw_fringe_sheets": "piece.fringe",
        "draw_fringe_template": "piece.fringe",
        "draw_hanging": "piece.hanging",
        "draw_key": "chart.key",
        "draw_key_map": "chart.key_map",
        "draw_knot_stages": "knot.stages",
        "draw_legend": "chart.legend",
        "draw_part": "part.picture",
        "draw_part_steps": "part.figures",
        "draw_swatch": "chart.swatch",
        "draw_whole_back": "back.map",
        "place_parts": "piece.placed",
        "plan_tiles": "chart.tiles",
        "standalone_svg": "base.standalone",
    },
)
