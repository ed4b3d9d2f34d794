"""Make the pictures for a shop's listing, as templates/listing.toml asks for them.

Nothing can be knotted from them: no page that has a part of the chart, of the rows or of the
steps of parts on it is ever shown.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any, TypeVar

from publisher.errors import Problem, TemplateError
from publisher.frozen import frozen
from publisher.manuscript.key_places import place_of
from publisher.model.colour import Colour
from publisher.source.folder import is_slug
from publisher.templates import Templates

if TYPE_CHECKING:
    from publisher.model.book import Book

_FILE = "listing.toml"
_SECRET = ("chart", "rows", "parts")
"""Sections to knot from; the names of their pages begin so."""
_MOST_PIXELS = 6000


@frozen
class ListingPicture:
    """One picture: the finished piece, or the first pages of sections, as far as they are there."""

    name: str
    sections: tuple[str, ...]
    ground: Colour


@frozen
class Listing:
    """The pictures for a shop's listing: their size in pixels, and what each shows."""

    width: int
    height: int
    pictures: tuple[ListingPicture, ...]


def read_listing(templates: Templates) -> Listing:
    """TemplateError says all that is wrong in the file."""
    table, file = templates.table(_FILE), templates.file(_FILE)
    problems: list[Problem] = []

    def read(of: Callable[[Any], _Read], value: Any, *keys: str | int) -> _Read | None:
        try:
            return of(value)
        except (KeyError, TypeError, ValueError) as error:
            what = str(error) if isinstance(error, ValueError) else _LACKING
            problems.append(Problem(place_of(file, *keys), what, "mend the line"))
            return None

    size = read(_size, table.get("pixels"), "pixels")
    given = read(_list, table.get("pictures"), "pictures") or ()
    pictures = [read(_shown, one, "pictures", at) for at, one in enumerate(given)]
    if problems or size is None:
        raise TemplateError(*problems)
    return Listing(*size, tuple(picture for picture in pictures if picture))


_Read = TypeVar("_Read")
_LACKING = "a picture has name, show and ground"


def _list(pictures: object) -> list[Any]:
    if not isinstance(pictures, list):
        raise ValueError("pictures are missing: write [[pictures]] above each")
    return pictures


def _size(pixels: object) -> tuple[int, int]:
    if isinstance(pixels, list) and len(pixels) == 2:
        width, height = pixels
        if all(type(side) is int and 100 <= side <= _MOST_PIXELS for side in (width, height)):
            return width, height
    raise ValueError(f"pixels must be two numbers from 100 to {_MOST_PIXELS}")


def _shown(table: Mapping[str, Any]) -> ListingPicture:
    name, show, ground = str(table["name"]), table["show"], Colour.from_hex(table["ground"])
    if not is_slug(name):
        raise ValueError(f"{name!r} can't be a picture's name: use small letters and figures")
    sections = () if show == "piece" else tuple(map(str, show))
    secret = [section for section in sections if section.startswith(_SECRET)]
    if isinstance(show, str) and show != "piece":
        raise ValueError('show must be "piece" or a list of sections')
    if secret:
        raise ValueError(f"{secret[0]} can't be shown: the piece could be knotted from it")
    return ListingPicture(name, sections, ground)


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
