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

A `<g data-form="name">` of shapes alone is drawn once for all groups of that name in a book.

Put the tag on the element it belongs to, or on a `<g>` around several (the lines of a paragraph).
What has no tag is taken sensibly: a text between blocks is a P, words beside a Link are a Span,
shapes are Artifact, but part of the Figure if they stand in one.
"""

from typing import TYPE_CHECKING

from publisher.lazy_exports import lazy_exports

if TYPE_CHECKING:
    from publisher.press.finished.buyers import (
        Buyer,
        BuyerList,
        copy_names,
        read_buyers,
        safe_file_name,
        what_is_wrong,
    )
    from publisher.press.finished.imposing import impose, sheet_scale
    from publisher.press.finished.marks import mark_pages
    from publisher.press.finished.pictures import page_pictures, page_png
    from publisher.press.finished.side_by_side import side_by_side
    from publisher.press.finished.smallest import smallest_type_pt
    from publisher.press.finished.stamping import Stamper
    from publisher.press.pdf.booklet import print_book
    from publisher.press.pdf.opening import page_sizes
    from publisher.press.svg.raster import lacking_for_pictures, svg_picture

__all__ = [
    "Buyer",
    "BuyerList",
    "Stamper",
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
    "what_is_wrong",
]

__getattr__ = lazy_exports(
    __name__,
    {
        "Buyer": "finished.buyers",
        "BuyerList": "finished.buyers",
        "Stamper": "finished.stamping",
        "copy_names": "finished.buyers",
        "impose": "finished.imposing",
        "lacking_for_pictures": "svg.raster",
        "mark_pages": "finished.marks",
        "page_pictures": "finished.pictures",
        "page_png": "finished.pictures",
        "page_sizes": "pdf.opening",
        "print_book": "pdf.booklet",
        "read_buyers": "finished.buyers",
        "safe_file_name": "finished.buyers",
        "sheet_scale": "finished.imposing",
        "side_by_side": "finished.side_by_side",
        "smallest_type_pt": "finished.smallest",
        "svg_picture": "svg.raster",
        "what_is_wrong": "finished.buyers",
    },
)
"""Sheets need no fonts, pictures no structure tree."""
