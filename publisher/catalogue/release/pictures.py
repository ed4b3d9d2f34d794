"""Make the pictures for a shop's listing, as templates/listing.toml asks for them.

Nothing can be knotted from them: no page that has a part of the chart, of the rows or of the
steps of parts on it is ever shown.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, Literal

from publisher.frozen import frozen
from publisher.model.colour import Colour
from publisher.tables.findings import KeyPath
from publisher.tables.schema import (
    after,
    hex_colour,
    key,
    line,
    rows_of,
    slug,
    some,
    table_schema,
    whole,
    word_or,
)
from publisher.templates import Templates

if TYPE_CHECKING:
    from publisher.model.book import Book

_SECRET = ("chart", "rows", "parts")
"""Sections to knot from; the names of their pages begin so."""
_MOST_PIXELS = 6000


@frozen(kw_only=True)
class ListingPicture:
    """One picture: the finished piece, or the first pages of sections, as far as they are there."""

    name: str = key(slug(), "Its file's name.", 'name = "1-piece"', stand_in="picture")
    show: Literal["piece"] | list[str] = key(
        word_or(["piece"], rows_of(line(100), 1)),
        "The piece, or sections.",
        'show = ["cover"]',
        stand_in="piece",
    )
    ground: Colour = key(
        after(Colour.from_hex, hex_colour()),
        "The colour behind it.",
        'ground = "#ffffff"',
        stand_in="#ffffff",
    )

    @property
    def sections(self) -> Sequence[str]:
        """The sections that it shows; none where it shows the piece."""
        return () if self.show == "piece" else self.show


@frozen(kw_only=True)
class Listing:
    """The pictures for a shop's listing: their width and height, and what each shows."""

    pixels: list[int] = key(
        some(whole(100, _MOST_PIXELS), 2, least=2),
        "The pictures' width and height.",
        "pixels = [2000, 2000]",
        stand_in=[2000, 2000],
    )
    pictures: list[ListingPicture] = key(
        rows_of(table_schema(ListingPicture)), "The pictures.", "[[pictures]]", stand_in=[]
    )


def read_listing(templates: Templates) -> Listing:
    """TemplateError says all that is wrong in the file."""
    return templates.read("listing.toml", Listing, _secrets)


def _secrets(listing: Listing) -> Iterator[tuple[KeyPath, str, str]]:
    for at, picture in enumerate(listing.pictures):
        for place, section in enumerate(picture.sections):
            if section.startswith(_SECRET):
                what = f"{section} can't be shown: the piece could be knotted from it"
                yield ("pictures", at, "show", place), what, "take it out"


def listing_pictures(
    listing: Listing, book: Book, pdf: bytes, piece: bytes
) -> Iterator[tuple[str, bytes]]:
    """Names and PNGs. `book` and `pdf`: an edition with pages; `piece`: a PDF of the piece alone.

    A picture whose sections are not in the book, or not alone on their pages, is left out.
    """
    from publisher.press import side_by_side

    width, height = listing.pixels
    for shown in listing.pictures:
        pages = [(piece, 1)] if not shown.sections else list(_pages(shown.sections, book, pdf))
        if pages:
            yield shown.name, side_by_side(pages, (width, height), shown.ground)


def _pages(sections: Sequence[str], book: Book, pdf: bytes) -> Iterator[tuple[bytes, int]]:
    """The pages that sections open, with nothing on them to knot from."""
    for section in sections:
        opening = f'data-dest="{section}"'
        for number, page in enumerate(book.pages, 1):
            opens = opening in page.frame or (number == 1 and section == "cover")
            if opens and not any(f'data-dest="{name}' in page.svg for name in _SECRET):
                yield pdf, number
                break
