"""Turn the pixels of a picture into a chart: few colours, whole knots, no stray ones."""

from __future__ import annotations

from typing import TYPE_CHECKING

from publisher.lazy_exports import lazy_exports

if TYPE_CHECKING:
    from publisher.charting.letters import choose_letters
    from publisher.charting.make import draw_chart
    from publisher.charting.naming import name_colours

__all__ = ["choose_letters", "draw_chart", "name_colours"]

__getattr__ = lazy_exports(
    __name__,
    {"choose_letters": "letters", "draw_chart": "make", "name_colours": "naming"},
)
