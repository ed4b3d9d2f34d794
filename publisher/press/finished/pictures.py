"""Turn a PDF's pages into pictures, as a reader's program would show them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

from publisher.png import write_png

if TYPE_CHECKING:
    from PIL.Image import Image

_A_LITTLE_LESS = 1 - 1e-6
"""So that a whole number of pixels, a hair too many by rounding, does not become one more."""


def page_pictures(pdf: bytes, dpi: float = 150.0, only: Sequence[int] | None = None) -> list[Image]:
    """Pages of a PDF as RGB pictures, `dpi` pixels to the inch, drawn by pdfium.

    `only`: the pages' numbers, from 1; IndexError where there is no such page.
    """
    with opened(pdf) as document:
        numbers = range(1, len(document) + 1) if only is None else only
        pages = (_page(document, number) for number in numbers)
        return [page.render(scale=_scale(dpi)).to_pil().convert("RGB") for page in pages]


def page_png(pdf: bytes, number: int, dpi: float = 150.0) -> bytes:
    """One page as a PNG. IndexError where there is none of this number."""
    with opened(pdf) as document:
        bitmap = _page(document, number).render(scale=_scale(dpi), rev_byteorder=True)
        assert bitmap.n_channels == 3
        return write_png(bitmap.width, bitmap.height, bytes(bitmap.buffer), bitmap.stride, dpi)


@contextmanager
def opened(pdf: bytes) -> Iterator[Any]:
    """A PDF as pdfium has it."""
    import pypdfium2

    document = pypdfium2.PdfDocument(pdf)
    try:
        yield document
    finally:
        document.close()


def _page(document: Any, number: int) -> Any:
    """A page by its number, from 1. IndexError where there is none."""
    if not 1 <= number <= len(document):
        raise IndexError(f"there is no such page among {len(document)}")
    return document[number - 1]


def _scale(dpi: float) -> float:
    """Pixels a point."""
    return dpi / 72 * _A_LITTLE_LESS
