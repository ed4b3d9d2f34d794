"""Paint a book's page as a PNG straight away, with no PDF on the way."""

from __future__ import annotations

import io
import math

from PIL import Image

from publisher.book import Book
from publisher.errors import TemplateError
from publisher.press.binding import cairocffi
from publisher.press.canvas import Canvas
from publisher.press.pictures import A_LITTLE_LESS
from publisher.press.proofs import (
    BROKEN,
    Proof,
    broken_page,
    problem_of,
    read_proofs,
    set_up,
    to_scale,
)
from publisher.press.tags import Tagger
from publisher.press.tree import PageError

_MM_PER_INCH = 25.4
_COMPRESSION = 1
"""For pictures of cords a tenth larger than what takes three times as long."""


def paint_page(book: Book, number: int = 1, dpi: float = 150.0) -> bytes:
    """A page as a PNG, `dpi` pixels to the inch. IndexError where there is none of this number.

    TemplateError and FontError as from `print_book`.
    """
    if not 1 <= number <= len(book.pages):
        raise IndexError(f"there is no such page among {len(book.pages)}")
    image = _paint(read_proofs(book)[number - 1], dpi / _MM_PER_INCH)
    picture = io.BytesIO()
    image.save(picture, "PNG", dpi=(dpi, dpi), compress_level=_COMPRESSION)
    return picture.getvalue()


def _paint(proof: Proof, pixels_per_mm: float) -> Image.Image:
    page, scale = proof.page, pixels_per_mm * A_LITTLE_LESS
    size = math.ceil(page.width_mm * scale), math.ceil(page.height_mm * scale)
    surface = cairocffi.ImageSurface(cairocffi.FORMAT_RGB24, *size)
    context = cairocffi.Context(surface)
    context.set_source_rgb(1, 1, 1)
    context.paint()
    set_up(context)
    context.save()
    try:
        to_scale(context, proof, scale)
        Canvas(context, Tagger(context), proof.root, proof.runs).draw_page()
        context.restore()  # the first call after drawing that tells of an error
    except PageError as error:
        raise TemplateError(problem_of(page, error)) from None
    except BROKEN as error:
        raise TemplateError(broken_page(page, error)) from None
    surface.flush()
    rows = bytes(surface.get_data())
    return Image.frombuffer("RGB", size, rows, "raw", "BGRX", surface.get_stride(), 1)
