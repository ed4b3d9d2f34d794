"""Small books with pages written by hand, for the tests of the press."""

from __future__ import annotations

import datetime
from collections.abc import Iterable

from publisher.fonts import font_attributes
from publisher.model.book import Book, Bookmark, Page

SANS, BOLD, SERIF = (font_attributes(face) for face in ("sans", "bold", "serif"))
DATE = datetime.datetime(2026, 9, 1, 12, 0, tzinfo=datetime.UTC)


def svg(body: str, width_mm: float = 210.0, height_mm: float = 297.0) -> str:
    """A page's SVG around what is drawn on it; text is 4 mm sans unless it says otherwise."""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {width_mm:g} {height_mm:g}" '
        f'{SANS} font-size="4">{body}</svg>'
    )


def book(
    *bodies: str,
    bookmarks: Iterable[Bookmark] = (),
    title: str = "Kingfisher & Reeds",
    width_mm: float = 210.0,
    height_mm: float = 297.0,
    labels: Iterable[str] = (),
    date: datetime.datetime = DATE,
) -> Book:
    """A book with one page for each body."""
    named = list(labels) or [str(number + 1) for number in range(len(bodies))]
    pages = tuple(
        Page(svg(body, width_mm, height_mm), width_mm, height_mm, label)
        for body, label in zip(bodies, named, strict=True)
    )
    return Book(
        pages=pages,
        bookmarks=tuple(bookmarks),
        title=title,
        author="Reedbank Knot Room",
        subject="A pattern for a knotted panel",
        keywords=("knots", "reeds"),
        language="en-GB",
        date=date,
    )


def numbered(count: int, width_mm: float = 148.0, height_mm: float = 210.0) -> Book:
    """Pages that say only which they are, as large as the page allows."""
    middle = f'x="{width_mm / 2:g}" y="{height_mm / 2:g}" text-anchor="middle" font-size="40"'
    bodies = [f'<text data-tag="H1" {middle}>{number + 1}</text>' for number in range(count)]
    return book(*bodies, width_mm=width_mm, height_mm=height_mm)


RICH = book(
    f"""
    <g data-tag="Artifact"><path d="M18 18.5H192" stroke="#cfd4d3" stroke-width=".2"/>
      <text x="18" y="16">Reedbank Knot Room</text></g>
    <text data-tag="H1" data-dest="top" {SERIF} font-size="7" x="18" y="32">Kingfisher</text>
    <text data-tag="P" x="18" y="42">See <tspan data-tag="Link" data-href="#chart">the
      chart</tspan> before you <tspan {BOLD}>begin</tspan>.</text>
    <text x="18" y="48">Words on the <tspan data-tag="Link"
      data-href="https://example.org/a?b=1&amp;c='2'">web</tspan> too.</text>
    <g data-tag="P"><text x="18" y="55">A paragraph of two lines</text>
      <text x="18" y="60">of text, no more.</text></g>
    <g data-tag="Table">
      <path d="M18 64H192" stroke="#000" stroke-width=".35" fill="none"/>
      <g data-tag="TR"><text data-tag="TH" x="18" y="70">Colour</text>
        <text data-tag="TH" data-scope="Column" x="60" y="70">Cut</text></g>
      <path d="M18 72H192" stroke="#ccc" stroke-width=".2" fill="none"/>
      <g data-tag="TR"><text data-tag="TH" data-scope="Row" x="18" y="77">navy</text>
        <text data-tag="TD" x="60" y="77">12 ½″ → 1⅛</text></g>
    </g>
    <g data-tag="L">
      <g data-tag="LI"><text data-tag="Lbl" x="18" y="90">1</text>
        <text data-tag="LBody" x="24" y="90">Fold and mount</text></g>
      <g data-tag="LI"><text data-tag="Lbl" x="18" y="95">2</text>
        <g data-tag="LBody"><text x="24" y="95">Work row 1, then</text>
          <text x="24" y="100">see <tspan data-tag="Link" data-href="#top">the
          top</tspan></text></g></g>
    </g>
    """,
    f"""
    <text data-tag="H2" data-dest="chart" {SERIF} font-size="5" x="18" y="32">Chart</text>
    <g data-tag="Figure" data-alt="Colour chart, 4 cords by 2 rows.">
      <rect x="20" y="40" width="40" height="20" fill="#1f2a44"/>
      <text data-tag="Artifact" fill="#fff" data-advance="10" x="22" y="50">NWNW</text>
      <circle cx="70" cy="50" r="5" fill="#c00"/></g>
    <g opacity="0.5"><rect x="20" y="80" width="20" height="20" fill="#00f"/></g>
    <defs><clipPath id="round"><circle cx="100" cy="100" r="10"/></clipPath></defs>
    <g clip-path="url(#round)"><text data-tag="P" x="92" y="100">clipped</text></g>
    """,
    labels=("i", "1"),
    bookmarks=(Bookmark("Kingfisher", "top", 1), Bookmark("The chart, é", "chart", 2)),
)
"""Two pages with every sort of structure that a booklet has."""
