"""Draw what is printed: figures as SVG in mm, from parts of a plan and from knots."""

from __future__ import annotations

from typing import TYPE_CHECKING

from publisher.lazy import homes

if TYPE_CHECKING:
    from publisher.drawing.backmap import draw_back_legend, draw_back_maps, draw_whole_back
    from publisher.drawing.backparts import back_tasks
    from publisher.drawing.chart import draw_chart_tile, draw_cord_numbers
    from publisher.drawing.fringe import draw_fringe_sheets, draw_fringe_template
    from publisher.drawing.hanging import draw_hanging
    from publisher.drawing.key import draw_key
    from publisher.drawing.keymap import draw_key_map
    from publisher.drawing.knot_stages import draw_knot_stages
    from publisher.drawing.legend import draw_legend
    from publisher.drawing.part_figures import draw_part_steps
    from publisher.drawing.part_picture import draw_part
    from publisher.drawing.placed import place_parts
    from publisher.drawing.standalone import standalone_svg
    from publisher.drawing.swatch import draw_swatch
    from publisher.drawing.tiles import plan_tiles

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

__getattr__ = homes(
    __name__,
    {
        "back_tasks": "backparts",
        "draw_back_legend": "backmap",
        "draw_back_maps": "backmap",
        "draw_chart_tile": "chart",
        "draw_cord_numbers": "chart",
        "draw_fringe_sheets": "fringe",
        "draw_fringe_template": "fringe",
        "draw_hanging": "hanging",
        "draw_key": "key",
        "draw_key_map": "keymap",
        "draw_knot_stages": "knot_stages",
        "draw_legend": "legend",
        "draw_part": "part_picture",
        "draw_part_steps": "part_figures",
        "draw_swatch": "swatch",
        "draw_whole_back": "backmap",
        "place_parts": "placed",
        "plan_tiles": "tiles",
        "standalone_svg": "standalone",
    },
)
