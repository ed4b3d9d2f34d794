"""Print a laid-out book: SVG pages → one accessible PDF; sheets, stamps and pictures of it.

What a page's SVG may say
=========================
A page is one `<svg>` whose viewBox is in mm, the size of the paper: write plain numbers, no units.
It is drawn in the order it is written, and read aloud in that order too. Numbers count to four
decimals: draw in mm, not in units that a scale makes a thousand times larger.

Drawn: `g path rect line circle ellipse polyline polygon text tspan image`, with fill, stroke and
their kin, transform, opacity, clip-path (a `clipPath` in `defs`), gradients (`linearGradient`,
`radialGradient`). `title desc metadata` and elements of other namespaces are passed over. All else
is an error, so that nothing goes missing on paper: no `use`, `pattern`, `mask`, `filter`,
`marker`, no CSS classes (`style="…"` is read as attributes), no DOCTYPE.

Text: font-family, font-weight and font-style name one of the house's faces (`publisher.fonts`
writes them); font-size is in mm. `x` and `y` place the baseline, `dx` and `dy` move on, and
`text-anchor` aligns by advance widths. `data-advance="6"` steps every character by 6 mm. Blanks
collapse as in HTML, but for `xml:space="preserve"` and under `data-advance`. The texts of a block,
such as the lines of a paragraph, and a tspan with an `x` of its own are read with a blank between
them and what stands before; but not after a text with `data-word-goes-on`: its last word ends in
the next.

Pictures: `<image href="data:image/png;base64,…">` only; nothing is ever fetched.
`image-rendering="pixelated"` keeps pixels sharp.

What a reader's program is told
===============================
    data-tag="H1"          a PDF structure type: H1 to H6, P, Span, Link, Figure, Caption, L > LI >
                           Lbl, LBody, Table > TR > TH, TD, Sect, Note, … or Artifact: furniture
    data-alt="…"           what a Figure (or Formula) shows; it must have one
    data-scope="Column"    what a TH is the head of: Column (if not said), Row or Both
    data-href="#name"      where a Link leads: a data-dest, or https:, http:, mailto:
    data-dest="name"       a place that links and bookmarks lead to

Put the tag on the element it belongs to, or on a `<g>` around several (the lines of a paragraph).
What has no tag is taken sensibly: a text between blocks is a P, words beside a Link are a Span,
shapes are Artifact, but part of the Figure if they stand in one.
"""

from typing import TYPE_CHECKING

from publisher.lazy import homes

if TYPE_CHECKING:
    from publisher.press.booklet import print_book
    from publisher.press.buyers import (
        Buyer,
        BuyerList,
        copy_names,
        read_buyers,
        safe_file_name,
        what_is_wrong,
    )
    from publisher.press.imposing import impose, sheet_scale
    from publisher.press.listing import side_by_side
    from publisher.press.marks import mark_pages
    from publisher.press.pictures import page_pictures, page_png, page_sizes
    from publisher.press.pieces import Piece, bring_pieces, take_pieces
    from publisher.press.raster import lacking_for_pictures, svg_picture
    from publisher.press.smallest import smallest_type_pt
    from publisher.press.stamping import Stamper

__all__ = [
    "Buyer",
    "BuyerList",
    "Piece",
    "Stamper",
    "bring_pieces",
    "copy_names",
    "impose",
    "lacking_for_pictures",
    "mark_pages",
    "page_pictures",
    "page_png",
    "page_sizes",
    "print_book",
    "read_buyers",
    "safe_file_name",
    "sheet_scale",
    "side_by_side",
    "smallest_type_pt",
    "svg_picture",
    "take_pieces",
    "what_is_wrong",
]

__getattr__ = homes(
    __name__,
    {
        "Buyer": "buyers",
        "BuyerList": "buyers",
        "Piece": "pieces",
        "Stamper": "stamping",
        "bring_pieces": "pieces",
        "copy_names": "buyers",
        "impose": "imposing",
        "lacking_for_pictures": "raster",
        "mark_pages": "marks",
        "page_pictures": "pictures",
        "page_png": "pictures",
        "page_sizes": "pictures",
        "print_book": "booklet",
        "read_buyers": "buyers",
        "safe_file_name": "buyers",
        "sheet_scale": "imposing",
        "side_by_side": "listing",
        "smallest_type_pt": "smallest",
        "svg_picture": "raster",
        "take_pieces": "pieces",
        "what_is_wrong": "buyers",
    },
)
"""Sheets need no fonts, pictures no structure tree."""
