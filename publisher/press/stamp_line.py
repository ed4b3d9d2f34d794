"""Make what a buyer's line is written with: a font that holds all of WinAnsi, or a line drawn."""

from __future__ import annotations

import datetime
import io
from html import escape
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name

from publisher.book import Book, Page
from publisher.fonts import font_attributes
from publisher.press.booklet import print_book
from publisher.press.papers import PT_PER_MM
from publisher.press.typefaces import typeface

FACE = "sans"
_NOT_LETTERS = frozenset("\x7f\x81\x8d\x8f\x90\x9d\xa0\xad")
WIN_ANSI = "! " + "".join(  # a blank at the start would collapse
    character
    for character in bytes(range(0x22, 0x100)).decode("cp1252", "ignore")
    if character not in _NOT_LETTERS
)
_FIRST = 0x20
_WIDTH_MM, _HEIGHT_MM, _START_MM, _BASELINE_MM = 1000.0, 14.0, 5.0, 7.0


def stamp_font(document: Any) -> Any:
    """The font of the line, brought into a document: one byte a letter, WinAnsi encoding."""
    face = typeface(FACE)
    program = face.lettered_program(WIN_ANSI)
    stream = document.make_stream(program, Length1=len(program))
    up, down, cap, _ = (round(share * 1000) for share in face.proportions)
    descriptor = Dictionary(
        Type=Name.FontDescriptor,
        FontName=Name("/" + face.name),
        Flags=32,
        FontBBox=Array(face.box),
        ItalicAngle=0,
        Ascent=up,
        Descent=-down,
        CapHeight=cap,
        StemV=85,
        FontFile2=stream,
    )
    letters = (bytes([code]).decode("cp1252", "replace") for code in range(_FIRST, 256))
    widths = [round(face.line(letter).width_em * 1000) for letter in letters]
    return document.make_indirect(
        Dictionary(
            Type=Name.Font,
            Subtype=Name.TrueType,
            BaseFont=Name("/" + face.name),
            FirstChar=_FIRST,
            LastChar=255,
            Widths=Array(widths),
            Encoding=Name.WinAnsiEncoding,
            FontDescriptor=document.make_indirect(descriptor),
        )
    )


def line_form(document: Any, line: str, size_pt: float, grey: float) -> tuple[bytes, Any]:
    """Content and resources of a form that shows a line, its baseline beginning at the origin."""
    with _printed(line, size_pt / PT_PER_MM, grey) as drawn:
        form = document.copy_foreign(drawn.pages[0].as_form_xobject())
    # the page that shows the form already says that it is an artifact
    form.write(form.read_bytes().replace(b"/Artifact BMC\n", b"").replace(b"EMC\n", b""))
    x, y = -_START_MM * PT_PER_MM, -(_HEIGHT_MM - _BASELINE_MM) * PT_PER_MM
    content = f"q 1 0 0 1 {x:.3f} {y:.3f} cm /Line Do Q".encode()
    return content, Dictionary(XObject=Dictionary(Line=form))


def _printed(line: str, size_mm: float, grey: float) -> Any:
    level = f"{round(grey * 255):02x}" * 3
    svg = (
        f'<svg viewBox="0 0 {_WIDTH_MM:g} {_HEIGHT_MM:g}"><text data-tag="Artifact" '
        f'{font_attributes(FACE)} font-size="{size_mm:.4f}" fill="#{level}" '
        f'x="{_START_MM:g}" y="{_BASELINE_MM:g}">{escape(line)}</text>'
        "</svg>"
    )
    page = Page(svg, _WIDTH_MM, _HEIGHT_MM, "1")
    date = datetime.datetime(2000, 1, 1)
    return pikepdf.open(io.BytesIO(print_book(Book((page,), (), line, "", "", (), "en", date))))
