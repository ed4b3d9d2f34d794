"""A laid-out book: pages as SVG, and what a reader's program must know of them."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Sequence
from dataclasses import field
from typing import NamedTuple

from publisher.errors import Place
from publisher.frozen import frozen

BODY = '<g data-body="here"/>'
"""Where a frame has its page's body: the same frame can stand around other pages."""


class Origin(NamedTuple):
    """The origin of a part of a page's SVG, from a byte on to the next origin: a line, and what is
    written there; None: of no file of the writer's."""

    at: int
    place: Place | None
    written: str


def origin_of(origins: Sequence[Origin], at: int) -> Place | None:
    """Return where what stands at a byte comes from; None if that is not known."""
    return next((origin.place for origin in reversed(origins) if origin.at <= at), None)


@frozen
class Page:
    """One page, ready to print.

    `frame` is a whole SVG document whose viewBox is in mm; what changes from page to page may be
    left to `body`, which then stands in the place of `BODY`. It is written in reading order; the
    attributes `data-tag` (a PDF structure type: H1, P, Table, TH, Figure, …, or `Artifact` for
    page furniture), `data-alt`, `data-scope`, `data-dest` (a name links can lead to) and
    `data-href` (`#name`, or a web address) carry what the picture alone does not say.
    `data-advance` on a text sets the same advance for every character, in user units: a row of
    a chart is one text of the sign font, and its signs stand a cell's width apart.

    `origins`: of a page that was laid out to find a mistake, which lines of templates it is from.
    """

    frame: str
    width_mm: float
    height_mm: float
    label: str
    body: str = ""
    origins: tuple[Origin, ...] = ()

    @property
    def svg(self) -> str:
        """The whole document."""
        return self.frame.replace(BODY, self.body) if self.body else self.frame


@frozen
class Bookmark:
    """A line of the reader's outline. `target` is the `data-dest` name of a place; level from 1."""

    title: str
    target: str
    level: int


@frozen
class Book:
    """Everything the press needs to make one PDF."""

    pages: tuple[Page, ...]
    bookmarks: tuple[Bookmark, ...]
    title: str
    author: str
    subject: str
    keywords: tuple[str, ...]
    language: str
    date: datetime.datetime
    traced: Callable[[], Book] | None = field(default=None, compare=False, repr=False)
    """The book once more, its pages with their origins, for when something is wrong in it."""
