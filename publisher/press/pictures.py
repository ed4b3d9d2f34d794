"""Turn a PDF's pages into pictures, as a reader's program would show them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.Image import Image

_A_LITTLE_LESS = 1 - 1e-6
"""So that a whole number of pixels, a hair too many by rounding, does not become one more."""


def page_pictures(pdf: bytes, dpi: float = 150.0, only: Sequence[int] | None = None) -> list[Image]:
    """Pages of a PDF as RGB pictures, `dpi` pixels to the inch, drawn by pdfium.

    `only`: the pages' numbers, from 1; IndexError where there is no such page.
    """
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    scale = dpi / 72 * _A_LITTLE_LESS
    try:
        numbers = range(1, len(document) + 1) if only is None else only
        if any(not 1 <= number <= len(document) for number in numbers):
            raise IndexError(f"there is no such page among {len(document)}")
        pages = (document[number - 1] for number in numbers)
        return [page.render(scale=scale).to_pil().convert("RGB") for page in pages]
    finally:
        document.close()


def page_png(pdf: bytes, number: int, dpi: float = 150.0) -> bytes:
    """One page as a PNG. IndexError where there is none of this number."""
    import pypdfium2

    from publisher.png import write_png

    document = pypdfium2.PdfDocument(pdf)
    try:
        if not 1 <= number <= len(document):
            raise IndexError(f"there is no such page among {len(document)}")
        bitmap = document[number - 1].render(scale=dpi / 72 * _A_LITTLE_LESS, rev_byteorder=True)
        assert bitmap.n_channels == 3
        return write_png(bitmap.width, bitmap.height, bytes(bitmap.buffer), bitmap.stride, dpi)
    finally:
        document.close()


def page_sizes(pdf: bytes) -> list[tuple[float, float]]:
    """Width and height of every page in points."""
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    try:
        return [document.get_page_size(index) for index in range(len(document))]
    finally:
        document.close()
