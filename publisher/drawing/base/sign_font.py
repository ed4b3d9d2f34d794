"""Turn the chart's signs into a TrueType font, so that a row of a chart is one line of text.

A sign is one em wide and stands on the base line as a cell's square would. The font belongs to the
program, under its licence, and may be embedded in any document (OS/2 fsType 0, "installable
embedding": OpenType 1.9). The file that ships is made anew, after a sign has changed, by

    python -m publisher.drawing.base.sign_font > publisher/fonts/knot-signs.ttf
"""

from __future__ import annotations

import io
import sys
from typing import Any

from publisher.drawing.base.shapes import Outline
from publisher.drawing.base.signs import SIGNS
from publisher.drawing.base.symbols import BLANK
from publisher.drawing.base.yarn_signs import YARN_SIGNS

_EM = 1000
_FAMILY = "Knot Signs"
_COPYRIGHT = "Copyright (c) 2026 the authors of Publisher"
_LICENCE = (
    "MIT License: anyone may use, copy, change, embed, pass on and sell this font, with this "
    "notice. It comes without any warranty."
)
_LICENCE_URL = "https://spdx.org/licenses/MIT.html"
_EPOCH = 3_786_825_600  # 2024-01-01 in seconds since 1904, the font's own clock


def build_sign_font() -> bytes:
    """The font file, the same to the byte every time. Needs fontTools."""
    from fontTools.fontBuilder import FontBuilder
    from fontTools.pens.ttGlyphPen import TTGlyphPen

    names = {f"sign{index:02}": sign for index, sign in enumerate((*SIGNS, *YARN_SIGNS), 1)}
    empty = TTGlyphPen(None).glyph()
    glyphs = {".notdef": empty, "blank": empty}
    glyphs |= {name: _glyph(sign.outlines, TTGlyphPen(None)) for name, sign in names.items()}
    characters = {ord(" "): "blank", ord(BLANK): "blank"}
    characters |= {ord(sign.character): name for name, sign in names.items()}
    builder = FontBuilder(_EM, isTTF=True)
    builder.setupGlyphOrder(list(glyphs))
    builder.setupCharacterMap(characters)
    builder.setupGlyf(glyphs)
    table = builder.font["glyf"]
    left = {name: getattr(table[name], "xMin", 0) for name in glyphs}
    builder.setupHorizontalMetrics({name: (_EM, left[name]) for name in glyphs})
    builder.setupHorizontalHeader(ascent=_EM, descent=0)
    builder.setupNameTable({"familyName": _FAMILY, "styleName": "Regular"} | _names())
    builder.setupOS2(sTypoAscender=_EM, sTypoDescender=0, usWinAscent=_EM, usWinDescent=0, fsType=0)
    builder.setupPost()
    builder.font["head"].created = builder.font["head"].modified = _EPOCH
    builder.font.recalcTimestamp = False
    file = io.BytesIO()
    builder.save(file)
    return file.getvalue()


def _names() -> dict[str, str]:
    plain = _FAMILY.replace(" ", "")
    return {
        "copyright": _COPYRIGHT,
        "uniqueFontIdentifier": plain,
        "fullName": _FAMILY,
        "version": "Version 1.0",
        "psName": f"{plain}-Regular",
        "licenseDescription": _LICENCE,
        "licenseInfoURL": _LICENCE_URL,
    }


def _glyph(outlines: tuple[Outline, ...], pen: Any) -> Any:
    """Outer outlines clockwise and holes against it, as TrueType fills by winding."""
    for outline in outlines:
        inside_another = sum(_encloses(other, outline) for other in outlines) % 2 == 1
        nodes = [(round(500 + x * _EM), round(500 - y * _EM), on) for x, y, on in outline]
        if (_area(nodes) > 0) != inside_another:
            nodes = [nodes[0], *reversed(nodes[1:])]
        _draw(nodes, pen)
    return pen.glyph()


def _draw(nodes: list[tuple[int, int, bool]], pen: Any) -> None:
    pen.moveTo(nodes[0][:2])
    controls = []
    for x, y, on in nodes[1:]:
        if not on:
            controls.append((x, y))
            continue
        pen.qCurveTo(*controls, (x, y)) if controls else pen.lineTo((x, y))
        controls = []
    if controls:
        pen.qCurveTo(*controls, nodes[0][:2])
    pen.closePath()


def _area(nodes: list[tuple[int, int, bool]]) -> float:
    """Twice the signed area; positive against the clock, y up."""
    following = [*nodes[1:], nodes[0]]
    return sum(x1 * y2 - x2 * y1 for (x1, y1, _), (x2, y2, _) in zip(nodes, following, strict=True))


def _encloses(outer: Outline, inner: Outline) -> bool:
    """Does the inner outline's box lie within the outer's? Enough for nested simple shapes."""
    if outer is inner:
        return False
    outer_x, outer_y = [node[0] for node in outer], [node[1] for node in outer]
    inner_x, inner_y = [node[0] for node in inner], [node[1] for node in inner]
    wide = min(outer_x) < min(inner_x) and max(inner_x) < max(outer_x)
    return wide and min(outer_y) < min(inner_y) and max(inner_y) < max(outer_y)


if __name__ == "__main__":
    sys.stdout.buffer.write(build_sign_font())
