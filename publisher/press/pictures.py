"""Turn a PDF's pages into pictures, as a reader's program would show them."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from PIL.Image import Image

_A_LITTLE_LESS = 1 - 1e-6
"""So that a whole number of pixels, a hair too many by rounding, does not become one more."""


def page_pictures(pdf: bytes, dpi: float = 150.0) -> list[Image]:
    """Every page of a PDF as an RGB picture, `dpi` pixels to the inch, drawn by pdfium."""
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    scale = dpi / 72 * _A_LITTLE_LESS
    try:
        return [page.render(scale=scale).to_pil().convert("RGB") for page in document]
    finally:
        document.close()
