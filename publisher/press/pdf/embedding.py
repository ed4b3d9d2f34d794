"""Write the objects of a font into a file: the face's subset, its widths, and its letters."""

from __future__ import annotations

from publisher.press.pdf.file import PdfFile, PdfUpdate
from publisher.press.pdf.typefaces import subset, typeface
from publisher.press.svg.numbers import plain_list

_SERIF, _SYMBOLIC, _ITALIC = 2, 4, 64
"""What a font is (ISO 32000-1, table 123); one whose codes are its own glyphs is symbolic."""
_STEM = {"bold": 140, "semibold": 115, "semibold-italic": 115, "serif": 110}
"""How thick upright strokes are, about, in thousandths of an em; readers draw from the outlines."""


def add_font(file: PdfFile | PdfUpdate, face: str, glyphs: frozenset[int], number: int = 0) -> int:
    """Add some glyphs of a face as a font, under a number if one is given; return its number."""
    known = typeface(face)
    made = subset(face, glyphs)
    program = file.stream(f"/Length1 {len(made.program)}", made.program)
    letters = file.stream("", made.letters.encode())
    up, down, cap, _ = known.proportions
    heights = [round(share * 1000) for share in (up, -down, cap)]
    flags = _SYMBOLIC | _SERIF * face.startswith("serif") | _ITALIC * (known.slant != 0)
    descriptor = file.add(
        f"<</Type/FontDescriptor/FontName/{made.name}/Flags {flags}"
        f"/FontBBox[{plain_list(*known.box)}]/ItalicAngle {plain_list(known.slant)}"
        f"/Ascent {heights[0]}/Descent {heights[1]}/CapHeight {heights[2]}"
        f"/StemV {_STEM.get(face, 85)}/FontFile2 {program} 0 R>>"
    )
    inner = file.add(
        f"<</Type/Font/Subtype/CIDFontType2/BaseFont/{made.name}"
        "/CIDSystemInfo<</Registry(Adobe)/Ordering(Identity)/Supplement 0>>"
        f"/FontDescriptor {descriptor} 0 R/W[{made.widths}]/CIDToGIDMap/Identity>>"
    )
    return file.add(
        f"<</Type/Font/Subtype/Type0/BaseFont/{made.name}/Encoding/Identity-H"
        f"/DescendantFonts[{inner} 0 R]/ToUnicode {letters} 0 R>>",
        number,
    )
