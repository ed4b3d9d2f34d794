"""What a page's SVG may say: the elements and attributes the press draws, and those it refuses."""

from __future__ import annotations

SVG_NAMESPACE = "http://www.w3.org/2000/svg"

SHAPES = frozenset({"path", "rect", "line", "circle", "ellipse", "polyline", "polygon"})
TEXTS = frozenset({"text", "tspan"})
DRAWN = SHAPES | TEXTS | {"svg", "g", "image"}
DEFINITIONS = frozenset({"defs", "linearGradient", "radialGradient", "stop", "clipPath"})
SILENT = frozenset({"title", "desc", "metadata"})
"""Words about the drawing, which is what `data-alt` says to a reader: not drawn."""

INHERITED = frozenset(
    {
        "color",
        "clip-rule",
        "fill",
        "fill-opacity",
        "fill-rule",
        "font-family",
        "font-size",
        "font-style",
        "font-weight",
        "image-rendering",
        "shape-rendering",
        "stroke",
        "stroke-dasharray",
        "stroke-dashoffset",
        "stroke-linecap",
        "stroke-linejoin",
        "stroke-miterlimit",
        "stroke-opacity",
        "stroke-width",
        "text-anchor",
        "visibility",
    }
)

REFUSED = {
    "class": "write the style as attributes",
    "filter": "draw the effect as shapes",
    "mask": "use a clip-path",
    "marker": "draw the arrow head as a path",
    "marker-start": "draw the arrow head as a path",
    "marker-mid": "draw the arrow head as a path",
    "marker-end": "draw the arrow head as a path",
    "font": "write font-family, font-size, font-weight and font-style",
    "letter-spacing": "leave the letters as the font spaces them, or use data-advance",
    "word-spacing": "leave the words as the font spaces them, or place them one by one",
    "textLength": "leave the letters as the font spaces them",
    "rotate": "turn the whole text with transform",
    "dominant-baseline": "place the baseline with y",
    "alignment-baseline": "place the baseline with y",
    "baseline-shift": "place the baseline with y",
    "text-decoration": "draw the line as a path",
    "writing-mode": "turn the whole text with transform",
    "vector-effect": "scale the stroke's width",
    "clip": "use a clip-path",
    "transform-origin": "write rotate(angle x y)",
}
"""Attributes that would change the picture and are not drawn, with what to write instead."""

HARMLESS_VALUES = frozenset({"none", "normal", "auto", "baseline", "alphabetic", "0"})
"""With one of these, a refused attribute asks for nothing."""

ARTIFACT = "Artifact"
TAGS = frozenset(
    [
        "Part",
        "Art",
        "Sect",
        "Div",
        "BlockQuote",
        "Caption",
        "TOC",
        "TOCI",
        "Index",
        "P",
        "H1",
        "H2",
        "H3",
        "H4",
        "H5",
        "H6",
        "L",
        "LI",
        "Lbl",
        "LBody",
        "Table",
        "THead",
        "TBody",
        "TFoot",
        "TR",
        "TH",
        "TD",
        "Span",
        "Quote",
        "Note",
        "Reference",
        "Code",
        "Link",
        "Figure",
        "Formula",
    ]
)
GROUPING = frozenset(["Document", "Part", "Art", "Sect", "Div", "BlockQuote"])
"""Tags that hold whole blocks: a text right inside one is a paragraph of its own."""

INLINE = frozenset(["Span", "Quote", "Note", "Reference", "Code", "Link"])
"""Tags of words within a block (ISO 32000-1, 14.8.4.4); all others begin a block of their own."""

PICTURES = frozenset({"Figure", "Formula"})
PARENTS = {
    "TR": frozenset({"Table", "THead", "TBody", "TFoot"}),
    "TH": frozenset({"TR"}),
    "TD": frozenset({"TR"}),
    "THead": frozenset({"Table"}),
    "TBody": frozenset({"Table"}),
    "TFoot": frozenset({"Table"}),
    "LI": frozenset({"L"}),
    "Lbl": frozenset({"LI", "Note"}),
    "LBody": frozenset({"LI"}),
    "TOCI": frozenset({"TOC"}),
}
"""Tags that only make sense inside certain others (ISO 32000-1, 14.8.4.3)."""

CHILDREN_ONLY = frozenset(["Table", "THead", "TBody", "TFoot", "TR", "L", "LI", "TOC"])
"""Tags with no words of their own: words stand in their cells and bodies."""

SCOPES = frozenset({"Row", "Column", "Both"})
