"""Show pages of PDFs side by side in one picture, as large as it has room for."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.model.colour import WHITE, Colour
from publisher.png import write_png
from publisher.press.finished.pictures import page_pictures
from publisher.press.pdf.opening import page_sizes

_BORDER, _GAP = 0.05, 0.03
"""Of the picture's width."""
_RIM = 0.75
"""How dark the line round a page is, of its ground."""
_DPI = 72.0


def side_by_side(
    pages: Sequence[tuple[bytes, int]], size: tuple[int, int], ground: Colour
) -> bytes:
    """A PNG of a size in pixels. `pages`: PDFs, each with the number of a page, from 1.

    On a ground that is not white each page has a thin line round it.
    """
    from PIL import Image, ImageDraw

    width, height = size
    border, gap = round(_BORDER * width), round(_GAP * width)
    picture = Image.new("RGB", size, ground.hex)
    pen = ImageDraw.Draw(picture)
    sizes = [page_sizes(pdf)[number - 1] for pdf, number in pages]
    room = width - 2 * border - gap * (len(pages) - 1)
    scale = min(
        room / sum(wide for wide, _ in sizes),
        (height - 2 * border) / max(tall for _, tall in sizes),
    )
    shots = [page_pictures(pdf, 72 * scale, [number])[0] for pdf, number in pages]
    left = (width - sum(shot.width for shot in shots) - gap * (len(shots) - 1)) // 2
    for shot in shots:
        top = (height - shot.height) // 2
        picture.paste(shot, (left, top))
        if ground != WHITE:
            box = (left - 1, top - 1, left + shot.width, top + shot.height)
            pen.rectangle(box, outline=_darker(ground).hex)
        left += shot.width + gap
    return write_png(width, height, picture.tobytes(), 3 * width, _DPI)


def _darker(ground: Colour) -> Colour:
    return Colour(*(round(_RIM * part) for part in (ground.red, ground.green, ground.blue)))
