"""Draw what is printed: figures as SVG in mm, from parts of a plan and from knots."""

from publisher.drawing.knot_stages import draw_knot_stages

__all__ = ["draw_knot_stages"]
