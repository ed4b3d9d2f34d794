"""The faces a booklet is set in: their names in SVG, their files, and the width of any text.

A text is measured by shaping its words with HarfBuzz: kerned, without ligatures. The press draws
from the same shaped words, so a measured width is the drawn width. All measures are exact advances,
unhinted.

    faces      sans, bold, semibold, italic, semibold-italic: running text, labels, tables
               serif (Semibold): titles; serif-regular
               signs: the chart's symbols, one em wide each
"""

from publisher.fonts.coverage import lacking_characters
from publisher.fonts.faces import FACES, Face, face_named, font_attributes, font_file, svg_font
from publisher.fonts.shaping import (
    Proportions,
    Shaper,
    Word,
    missing_characters,
    proportions,
    shaper,
    text_width_em,
    text_width_mm,
)

__all__ = [
    "FACES",
    "Face",
    "Proportions",
    "Shaper",
    "Word",
    "face_named",
    "font_attributes",
    "font_file",
    "lacking_characters",
    "missing_characters",
    "proportions",
    "shaper",
    "svg_font",
    "text_width_em",
    "text_width_mm",
]
