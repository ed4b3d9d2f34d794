"""Make the pictures for a shop's listing, as templates/listing.toml asks for them.

Nothing can be knotted from them: no page that has a part of the chart, of the rows or of the
steps of parts on it is ever shown.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from publisher.colour import Colour
from publisher.errors import Place, Problem, TemplateError
from publisher.frozen import frozen
from publisher.source.listing import is_slug
from publisher.templates import Templates

if TYPE_CHECKING:
    from publisher.book import Book

_FILE = "listing.toml"
_SECRET = ("chart", "rows", "parts")
"""Sections to knot from; the names of their pages begin so."""
_MOST_PIXELS = 6000


@frozen
class Shown:
    """One picture: the finished piece, or the first pages of sections, as far as they are there."""

    name: str
    sections: tuple[str, ...]
    ground: Colour


@frozen
class Listing:
    """What a shop's listing has: the size of its pictures in pixels, and what each shows."""

    width: int
    height: int
    pictures: tuple[Shown, ...]


def read_listing(templates: Templates) -> Listing:
    """TemplateError says what is wrong in the file."""
    table = templates.table(_FILE)
    path = templates.file(_FILE).path
    try:
        return Listing(*_size(table["pixels"]), tuple(map(_shown, table["pictures"])))
    except (KeyError, TypeError) as error:
        message = f"pixels, or pictures with name, show and ground, are missing ({error})"
        raise _error(path, message) from None
    except ValueError as error:
        raise _error(path, str(error)) from None


def _size(pixels: object) -> tuple[int, int]:
    if isinstance(pixels, list) and len(pixels) == 2:
        width, height = pixels
        if all(type(side) is int and 100 <= side <= _MOST_PIXELS for side in (width, height)):
            return width, height
    raise ValueError(f"pixels must be two numbers from 100 to {_MOST_PIXELS}")


def _shown(table: Mapping[str, Any]) -> Shown:
    name, show, ground = str(table["name"]), table["show"], Colour.from_hex(table["ground"])
    if not is_slug(name):
        raise ValueError(f"{name!r} can't be a picture's name: use small letters and figures")
    sections = () if show == "piece" else tuple(map(str, show))
    secret = [section for section in sections if section.startswith(_SECRET)]
    if isinstance(show, str) and show != "piece":
        raise ValueError('show must be "piece" or a list of sections')
    if secret:
        raise ValueError(f"{secret[0]} can't be shown: the piece could be knotted from it")
    return Shown(name, sections, ground)


def listing_pictures(
    listing: Listing, book: Book, pdf: bytes, piece: bytes
) -> Iterator[tuple[str, bytes]]:
    """Names and PNGs. `book` and `pdf`: an edition with pages; `piece`: a PDF of the piece alone.

    A picture whose sections are not in the book, or not alone on their pages, is left out.
    """
    from publisher.press import side_by_side

    size = listing.width, listing.height
    for shown in listing.pictures:
        pages = [(piece, 1)] if not shown.sections else list(_pages(shown.sections, book, pdf))
        if pages:
            yield shown.name, side_by_side(pages, size, shown.ground)


def _pages(sections: Sequence[str], book: Book, pdf: bytes) -> Iterator[tuple[bytes, int]]:
    """The pages that sections open, with nothing on them to knot from."""
    for section in sections:
        opening = f'data-dest="{section}"'
        for number, page in enumerate(book.pages, 1):
            opens = opening in page.frame or (number == 1 and section == "cover")
            if opens and not any(f'data-dest="{name}' in page.svg for name in _SECRET):
                yield pdf, number
                break


def _error(path: str, message: str) -> TemplateError:
    return TemplateError(Problem(Place(path), message, "mend the file"))
