"""Read a printed book back through pdfium: an engine that had no part in making it."""

from __future__ import annotations

import ctypes
import math
from collections import Counter
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium
from PIL.Image import Image

from publisher.model.colour import Colour

MM_PER_PT = 25.4 / 72
_INLINE = {"Span", "Quote", "Note", "Reference", "Code", "Link"}  # ISO 32000-1, 14.8.4.4


@dataclass(frozen=True, slots=True)
class Letter:
    """One printed character. `box` is left, bottom, right, top in points."""

    text: str
    font: str
    size_pt: float
    fill: Colour
    box: tuple[float, float, float, float]
    base_pt: float

    @property
    def middle(self) -> tuple[float, float]:
        left, bottom, right, top = self.box
        return (left + right) / 2, (bottom + top) / 2

    @property
    def is_text(self) -> bool:
        """Is it set in a face to read, and not one of the signs of charts and drawings?"""
        return "Source" in self.font and self.text.strip() != ""


@dataclass(frozen=True, slots=True)
class Element:
    """A structure element that holds words or shapes itself: its type, those around it, and its
    text, with that of the links and spans in it, as a reader of the tags takes it."""

    role: str
    above: tuple[str, ...]
    text: str


@dataclass(frozen=True, slots=True)
class Sheet:
    """A page as a picture."""

    picture: Image
    dpi: float
    height_pt: float

    @classmethod
    def of(cls, page: pypdfium2.PdfPage, dpi: float) -> Sheet:
        picture = page.render(scale=dpi / 72).to_pil().convert("RGB")
        return cls(picture, dpi, page.get_height())

    def under(self, letter: Letter, half: float = 0.0) -> Colour:
        """The commonest colour round a letter that is not its own: in its box and a little more,
        or so far from its middle to all sides, in parts of its size."""
        cut = self.picture.crop(self._box(letter, half))
        counts = Counter({c: n for n, c in cut.getcolors(cut.width * cut.height)})
        del counts[letter.fill.red, letter.fill.green, letter.fill.blue]
        return Colour(*counts.most_common(1)[0][0]) if counts else letter.fill

    def _box(self, letter: Letter, half: float) -> tuple[int, int, int, int]:
        left, bottom, right, top = letter.box
        if half:
            (x, y), reach = letter.middle, half * letter.size_pt
            left, bottom, right, top = x - reach, y - reach, x + reach, y + reach
        scale = self.dpi / 72
        return (
            max(0, round((left - 0.6) * scale)),
            max(0, round((self.height_pt - top - 0.6) * scale)),
            round((right + 0.6) * scale) + 1,
            round((self.height_pt - bottom + 0.6) * scale) + 1,
        )


@contextmanager
def opened(pdf: bytes) -> Iterator[pypdfium2.PdfDocument]:
    document = pypdfium2.PdfDocument(pdf)
    try:
        yield document
    finally:
        document.close()


def letters(page: pypdfium2.PdfPage) -> list[Letter]:
    """Every character of a page, in the order of its content."""
    text = page.get_textpage()
    return [letter for at in range(text.count_chars()) if (letter := _letter(text.raw, at))]


def _letter(text: Any, at: int) -> Letter | None:
    code = pdfium.FPDFText_GetUnicode(text, at)
    if pdfium.FPDFText_IsGenerated(text, at) == 1:  # a blank that pdfium only supposes
        return None
    name = ctypes.create_string_buffer(120)
    flags = ctypes.c_int()
    pdfium.FPDFText_GetFontInfo(text, at, name, 120, flags)
    red, green, blue, alpha = (ctypes.c_uint() for _ in range(4))
    pdfium.FPDFText_GetFillColor(text, at, red, green, blue, alpha)
    matrix = pdfium.FS_MATRIX()
    pdfium.FPDFText_GetMatrix(text, at, matrix)
    sides = [ctypes.c_double() for _ in range(4)]
    pdfium.FPDFText_GetCharBox(text, at, sides[0], sides[2], sides[1], sides[3])
    size = pdfium.FPDFText_GetFontSize(text, at) * math.hypot(matrix.b, matrix.d)
    left, bottom, right, top = (side.value for side in sides)
    return Letter(
        chr(code),
        name.value.decode(),
        size,
        Colour(red.value, green.value, blue.value),
        (left, bottom, right, top),
        matrix.f,
    )


def elements(page: pypdfium2.PdfPage) -> list[Element]:
    """The content of a page in the order of its structure tree: what a screen reader reads."""
    marked = _marked_text(page)
    tree = pdfium.FPDF_StructTree_GetForPage(page.raw)
    found: list[Element] = []
    for at in range(pdfium.FPDF_StructTree_CountChildren(tree)):
        found += _walk(pdfium.FPDF_StructTree_GetChildAtIndex(tree, at), (), marked)
    pdfium.FPDF_StructTree_Close(tree)
    return found


def _walk(element: Any, above: tuple[str, ...], marked: dict[int, str]) -> Iterator[Element]:
    role, words = _role(element), ""
    for child, mark in _content(element):
        if child and _role(child) not in _INLINE:
            if words:
                yield Element(role, above, words)
            words = ""
            yield from _walk(child, (*above, role), marked)
        else:
            words += _words(child, mark, marked)
    if words:
        yield Element(role, above, words)


def _words(element: Any, mark: int, marked: dict[int, str]) -> str:
    """The text of an element within a block, or of a mark if there is none."""
    if not element:
        return marked.get(mark, "")
    return "".join([_words(child, inner, marked) for child, inner in _content(element)])


def _content(element: Any) -> Iterator[tuple[Any, int]]:
    """What an element holds: elements, and the numbers of marks; what a link annotates apart."""
    for at in range(pdfium.FPDF_StructElement_CountChildren(element)):
        child = pdfium.FPDF_StructElement_GetChildAtIndex(element, at)
        mark = pdfium.FPDF_StructElement_GetChildMarkedContentID(element, at)
        if child or mark >= 0:
            yield child, mark


def _role(element: Any) -> str:
    return _wide(pdfium.FPDF_StructElement_GetType, element)


def _marked_text(page: pypdfium2.PdfPage) -> dict[int, str]:
    """The text of every marked content, by its number, without blanks that pdfium supposes."""
    text, found = page.get_textpage(), {}
    for at in range(text.count_chars()):
        if pdfium.FPDFText_IsGenerated(text.raw, at) != 1:
            item = pdfium.FPDFText_GetTextObject(text.raw, at)
            mark = pdfium.FPDFPageObj_GetMarkedContentID(item)
            found[mark] = found.get(mark, "") + chr(pdfium.FPDFText_GetUnicode(text.raw, at))
    return found


def _wide(ask: Any, *args: Any) -> str:
    """A string that pdfium gives as UTF-16 with its length in bytes or in characters."""
    length = ask(*args, None, 0)
    buffer = ctypes.create_string_buffer(2 * length + 2)
    kind = ask.argtypes[-2]
    ask(*args, ctypes.cast(buffer, kind), length)
    return buffer.raw.decode("utf-16-le").split("\0")[0]
