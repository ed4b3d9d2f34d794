"""Write a buyer's line into the foot of every page of a finished PDF: prepared once, then copied.

Every page shows one shared form. A copy is the prepared file's own bytes with a new version of that
form after them (an incremental update, ISO 32000-1, 7.5.6), some 600 bytes; where the name has
letters that are seldom met, a font of them as well. It is a courtesy mark, not a protection: who
knows how can take it off again.
"""

from __future__ import annotations

import unicodedata
from bisect import bisect_right

from pypdf import PdfWriter

from publisher.fonts import missing_characters, text_width_mm
from publisher.press.papers import PT_PER_MM
from publisher.press.pdf.content import ContentStream, Resources
from publisher.press.pdf.embedding import add_font
from publisher.press.pdf.file import PdfUpdate
from publisher.press.pdf.opening import (
    add_stream,
    name_resource,
    opened_pdf,
    packed,
    put_around,
    roots,
    sides,
)
from publisher.press.pdf.text import write_line
from publisher.press.pdf.typefaces import typeface
from publisher.press.svg.matrix import Matrix

FACE = "sans"
FOOT_MM = 10.0
"""From the trimmed page's lower edge to the line's baseline: a second line of the footer."""

_MEASURE_MM, _LEAST_SIDE_MM = 174.0, 10.0
"""The line is flush with the text, whose width is the same on all papers of the house."""

_SIZE_PT, _SMALLEST_PT = 7.5, 5.0
_GREY = (0.3, 0.3, 0.3, 1.0)
_FORM = "/BuyerLine"
_USUAL = " ".join(chr(code) for code in range(0x20, 0x180) if chr(code).isprintable())
"""Letters of most buyers: their font is in the file before it is copied."""
_Y_DOWN = Matrix(1.0, 0.0, 0.0, -1.0, 0.0, 0.0)


class Stamper:
    """A finished PDF made ready for its buyers' copies.

    `words` is the line, with {buyer} in it, and `order_words` what follows it when there is an
    order, with {order}. SourceError if the PDF can't be read. Tags, links and bookmarks stay; the
    line is an artifact.
    """

    def __init__(
        self, pdf: bytes, words: str = "Copy for {buyer}", order_words: str = ", order {order}"
    ) -> None:
        self._words, self._order_words = words, order_words
        self._glyphs = _glyphs(_USUAL) | _glyphs(words) | _glyphs(order_words)
        with opened_pdf(pdf) as reader:
            document = PdfWriter(clone_from=reader)
            self._form, self._room_mm = _prepare(document)
            catalogue = roots(document)
            file = packed(document)
            self._font = add_font(file, FACE, self._glyphs)
            self._file = file.finish(*catalogue)

    def copy(self, buyer: str, order: str = "") -> bytes:
        """The buyer's copy. Letters that the font lacks are written in Latin ones."""
        line = self._line(buyer, order)
        size_pt = _SIZE_PT
        width_mm = text_width_mm(line, FACE, size_pt)
        if width_mm > self._room_mm:
            size_pt = max(_SMALLEST_PT, size_pt * self._room_mm / width_mm)
            line = _shortened(line, size_pt, self._room_mm)
        return self._updated(line, size_pt)

    def _line(self, buyer: str, order: str) -> str:
        line = self._words.replace("{buyer}", printable(buyer))
        if order.strip():
            line += self._order_words.replace("{order}", printable(order))
        return line

    def _updated(self, line: str, size_pt: float) -> bytes:
        """The prepared bytes, and after them the form with a line, and the line's font."""
        content = ContentStream(Resources())
        content.transform(_Y_DOWN)
        content.fill_colour(_GREY)
        face = typeface(FACE)
        write_line(content, face, line, face.line(line), size_pt, (0.0, 0.0))
        update = PdfUpdate(self._file)
        glyphs = frozenset(content.needs.glyphs[FACE])
        font = self._font if glyphs <= self._glyphs else add_font(update, FACE, glyphs)
        update.stream(
            "/Type/XObject/Subtype/Form/BBox[-20 -20 2000 20]"
            f"/Resources<</Font<</{FACE} {font} 0 R>>>>",
            content.text().encode("latin-1"),
            self._form,
        )
        return update.write()


def printable(text: str) -> str:
    """A name as one line that the font can print: other alphabets come in Latin letters."""
    line = _one_line(text)
    lacking = missing_characters(line, FACE)
    if not lacking:
        return line
    from anyascii import anyascii

    return _one_line("".join(anyascii(c) if c in lacking else c for c in line))


def _one_line(text: str) -> str:
    composed = unicodedata.normalize("NFC", text)
    spaced = "".join(c if c.isprintable() and c != "\xad" else " " for c in composed)
    return " ".join(spaced.split())


def _glyphs(letters: str) -> frozenset[int]:
    return typeface(FACE).line(letters).glyphs


def _prepare(document: PdfWriter) -> tuple[int, float]:
    """Show a form, still empty, on every page: its number, and the room for its line in mm."""
    form, before = add_stream(document, b""), add_stream(document, b"q\n")
    room_mm = _MEASURE_MM
    for page in document.pages:
        left, bottom, right, _ = sides(page.trimbox)
        width_mm = (right - left) / PT_PER_MM
        side_mm = max((width_mm - _MEASURE_MM) / 2, _LEAST_SIDE_MM)
        room_mm = min(room_mm, width_mm - 2 * side_mm)
        x, y = left + side_mm * PT_PER_MM, bottom + FOOT_MM * PT_PER_MM
        shown = f"\nQ\n/Artifact BMC q 1 0 0 1 {x:.3f} {y:.3f} cm {_FORM} Do Q EMC"
        put_around(page, before, add_stream(document, shown.encode()))
        name_resource(page, _FORM, form)
    return form.idnum, room_mm


def _shortened(line: str, size_pt: float, room_mm: float) -> str:
    """Return as much of a line as there is room for, with … where it breaks off."""
    if text_width_mm(line, FACE, size_pt) <= room_mm + 0.01:
        return line
    fitting = bisect_right(
        range(len(line)), room_mm, key=lambda kept: text_width_mm(line[:kept] + "…", FACE, size_pt)
    )
    return line[: max(fitting - 1, 0)] + "…"
