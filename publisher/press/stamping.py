"""Write a buyer's line into the foot of every page of a finished PDF: prepared once, then copied.

Every page shows one shared form. A copy is the prepared file's own bytes with a new version of that
form after them (an incremental update, ISO 32000-1, 7.5.6), some 600 bytes. It is a courtesy mark,
not a protection: who knows how can take it off again.
"""

from __future__ import annotations

import hashlib
import unicodedata
from bisect import bisect_right
from typing import Any

from pikepdf import Array, Dictionary, Name

from publisher.fonts import missing_characters, text_width_mm
from publisher.press.opening import open_pdf, write_pdf
from publisher.press.papers import PT_PER_MM
from publisher.press.stamp_line import FACE, line_form, stamp_font

FOOT_MM = 10.0
"""From the trimmed page's lower edge to the line's baseline: a second line of the footer."""

_MEASURE_MM, _LEAST_SIDE_MM = 174.0, 10.0
"""The line is flush with the text, whose width is the same on all papers of the house."""

_SIZE_PT, _SMALLEST_PT = 7.5, 5.0
_GREY = 0.3
_FORM = "/BuyerLine"


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
        with open_pdf(pdf) as document:
            self._room_mm = _prepare(document)
            self._base = write_pdf(document)
        with open_pdf(self._base) as document:
            self._read_places(document)

    def copy(self, buyer: str, order: str = "") -> bytes:
        """The buyer's copy. Letters that the font lacks are written in Latin ones."""
        line = self._line(buyer, order)
        size_pt = _SIZE_PT
        width_mm = text_width_mm(line, FACE, size_pt)
        if width_mm > self._room_mm:
            size_pt = max(_SMALLEST_PT, size_pt * self._room_mm / width_mm)
            line = _shortened(line, size_pt, self._room_mm)
        try:
            return self._updated(line.encode("cp1252"), size_pt)
        except UnicodeEncodeError:
            return self._rewritten(line, size_pt)

    def _line(self, buyer: str, order: str) -> str:
        line = self._words.replace("{buyer}", printable(buyer))
        if order.strip():
            line += self._order_words.replace("{order}", printable(order))
        return line

    def _read_places(self, document: Any) -> None:
        form = document.pages[0].Resources.XObject[_FORM]
        self._form, self._font = form.objgen[0], form.Resources.Font["/F"].objgen[0]
        trailer = document.trailer
        self._root, self._info = trailer.Root.objgen[0], trailer.Info.objgen[0]
        self._size, self._identity = int(trailer.Size), bytes(trailer.ID[0])
        self._previous = int(self._base.rsplit(b"startxref", 1)[1].split()[0])

    def _updated(self, codes: bytes, size_pt: float) -> bytes:
        """The prepared bytes, and after them the form with a line in WinAnsi codes."""
        escaped = codes.replace(b"\\", b"\\\\").replace(b"(", b"\\(").replace(b")", b"\\)")
        content = b"BT /F %g Tf %g g (%s) Tj ET" % (size_pt, _GREY, escaped)
        form = (
            b"%d 0 obj\n<</Type/XObject/Subtype/Form/BBox[-20 -20 2000 20]"
            b"/Resources<</Font<</F %d 0 R>>>>/Length %d>>stream\n%s\nendstream\nendobj\n"
        ) % (self._form, self._font, len(content), content)
        return self._base + form + self._cross_references(len(form), codes)

    def _cross_references(self, form_length: int, codes: bytes) -> bytes:
        """The update's cross-reference stream: where the form now is, and where itself."""
        start = len(self._base)
        here = start + form_length
        entries = b"".join(
            b"\x01" + offset.to_bytes(4, "big") + b"\x00\x00" for offset in (start, here)
        )
        identity = hashlib.md5(self._identity + codes, usedforsecurity=False).hexdigest()
        return (
            b"%d 0 obj\n<</Type/XRef/W[1 4 2]/Index[%d 1 %d 1]/Size %d/Root %d 0 R/Info %d 0 R"
            b"/Prev %d/ID[<%s><%s>]/Length %d>>stream\n%s\nendstream\nendobj\n"
            b"startxref\n%d\n%%%%EOF\n"
        ) % (
            self._size,
            self._form,
            self._size,
            self._size + 1,
            self._root,
            self._info,
            self._previous,
            self._identity.hex().encode(),
            identity.encode(),
            len(entries),
            entries,
            here,
        )

    def _rewritten(self, line: str, size_pt: float) -> bytes:
        """The whole file written anew, for a line with letters beyond WinAnsi."""
        with open_pdf(self._base) as document:
            form = document.get_object(self._form, 0)
            content, resources = line_form(document, line, size_pt, _GREY)
            form.write(content)
            form.Resources = resources
            return write_pdf(document)


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


def _prepare(document: Any) -> float:
    """Show the form, still empty, on every page; the room for its line, in mm."""
    form = document.make_stream(b"")
    form.Type, form.Subtype = Name.XObject, Name.Form
    form.BBox = Array([-20, -20, 2000, 20])
    form.Resources = Dictionary(Font=Dictionary(F=stamp_font(document)))
    if "/Info" not in document.trailer:
        document.trailer.Info = document.make_indirect(Dictionary())
    before = document.make_stream(b"q\n")
    room_mm = _MEASURE_MM
    for page in document.pages:
        left, bottom, right, _ = (float(side) for side in page.trimbox)
        page.add_resource(form, Name.XObject, Name(_FORM))
        width_mm = (right - left) / PT_PER_MM
        side_mm = max((width_mm - _MEASURE_MM) / 2, _LEAST_SIDE_MM)
        room_mm = min(room_mm, width_mm - 2 * side_mm)
        x, y = left + side_mm * PT_PER_MM, bottom + FOOT_MM * PT_PER_MM
        shown = f"\nQ\n/Artifact BMC q 1 0 0 1 {x:.3f} {y:.3f} cm {_FORM} Do Q EMC"
        page.contents_add(before, prepend=True)
        page.contents_add(document.make_stream(shown.encode()))
    return room_mm


def _shortened(line: str, size_pt: float, room_mm: float) -> str:
    """As much of a line as there is room for, with … where it breaks off."""
    if text_width_mm(line, FACE, size_pt) <= room_mm + 0.01:
        return line
    fitting = bisect_right(
        range(len(line)), room_mm, key=lambda kept: text_width_mm(line[:kept] + "…", FACE, size_pt)
    )
    return line[: max(fitting - 1, 0)] + "…"
