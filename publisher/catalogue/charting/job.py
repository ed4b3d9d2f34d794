"""What is asked for when a chart is to be made of a picture, and the pattern that is there."""

from __future__ import annotations

import os
from pathlib import Path
from typing import TYPE_CHECKING

from publisher.catalogue.calls import check_number, wrong_call
from publisher.catalogue.charting.colours import Shelf
from publisher.catalogue.starting import refuse_reserved
from publisher.errors import OutputError, Place, Problem, SourceError
from publisher.frozen import frozen
from publisher.model.pattern import ChartPiece, Pattern, YarnColour
from publisher.source.chart import MOST_COLUMNS

if TYPE_CHECKING:
    from publisher.source.photo import Photo

MOST_COLOURS = 40


@frozen
class Old:
    """A pattern file that is there."""

    raw: str
    pattern: Pattern
    target: ChartPiece
    needed: frozenset[str]
    """Letters that something else than the target's chart needs."""


@frozen
class Job:
    """A picture to make a chart of, and the wishes for that chart."""

    picture: Path
    photo: Photo
    path: Path
    old: Old | None
    shelf: Shelf
    columns: int
    most: int

    @property
    def own(self) -> tuple[YarnColour, ...]:
        """The colours that the file has."""
        return self.old.pattern.colours if self.old else ()

    @property
    def there(self) -> tuple[YarnColour, ...]:
        """The colours that it will have anyhow."""
        if self.old is None or self.shelf.only:
            return self.own
        return tuple(colour for colour in self.own if colour.letter in self.old.needed)


def check_call(path: Path, columns: int, colours: int, yarns: str | None) -> None:
    """UsageError where it asks for what can't be."""
    if path.suffix != ".toml":
        hint = "name a pattern's file, such as patterns/reed-warbler.toml"
        raise wrong_call(str(path), "a chart is put into a .toml file", hint)
    check_number("columns", columns, MOST_COLUMNS)
    check_number("colours", colours, MOST_COLOURS)
    if yarns not in (None, "house"):
        raise wrong_call("yarns", f"{yarns!r} is not known here", 'use "house"')


def read_old(path: Path) -> Old | None:
    """The file that is there; None if there is none. SourceError where it is no valid pattern."""
    from publisher.source.read import check_name, read_pattern
    from publisher.source.rewrite import first_chart, letters_in_use
    from publisher.tables.text_files import read_raw_text

    problems = check_name(path)
    if problems:
        raise wrong_call(str(path), problems[0].message, problems[0].hint)
    if not path.exists() and not path.is_symlink():
        refuse_reserved(path.stem)
        return None
    pattern = read_pattern(path)
    target = first_chart(pattern)
    if target is None:
        message = "this pattern has no chart that could be replaced: its pieces are worked in steps"
        hint = "add a piece with a chart to it, or choose another --into"
        raise SourceError(Problem(Place(str(path)), message, hint))
    if not os.access(path, os.W_OK):
        message = "you may not change this file, and nothing was changed"
        raise OutputError(Problem(Place(str(path)), message, "see to its permissions"))
    raw = read_raw_text(path)
    return Old(raw, pattern, target, letters_in_use(pattern, raw))
