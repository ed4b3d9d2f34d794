"""Turn an SVG file into a picture of pixels, which CairoSVG does with the cairo library."""

from __future__ import annotations

from publisher.errors import Place, Problem
from publisher.model.colour import Colour

HOW_TO_INSTALL = (
    "install it (Debian, Ubuntu: apt install libcairo2; macOS: brew install cairo; "
    "Windows: the GTK 3 runtime)"
)


def lacking_for_pictures() -> Problem | None:
    """Return why no picture can be made here, and what to do; None where one can."""
    try:
        import cairosvg  # noqa: F401
    except (ImportError, OSError):
        what = "the cairo library, which draws PNG, is not installed, and only SVG was made"
        return Problem(Place("--png"), what, HOW_TO_INSTALL)
    return None


def svg_picture(svg: str, width_px: int, height_px: int, ground: Colour) -> bytes:
    """Return an SVG file as a PNG of a size, its edges filled with the ground's colour where the
    figure ends within a pixel. OSError where the cairo library is not installed."""
    import cairosvg

    size = {"output_width": width_px, "output_height": height_px}
    png: bytes = cairosvg.svg2png(bytestring=svg.encode(), background_color=ground.hex, **size)
    return png
