"""What every part of an errata sheet is written from, and words that they share."""

from __future__ import annotations

import datetime
from functools import cached_property

from publisher.errata.compare.changes import Errata
from publisher.frozen import frozen
from publisher.manuscript.blocks import Cell, Text
from publisher.manuscript.context import BookContext
from publisher.manuscript.words import Words


@frozen
class EarlierRelease:
    """The release that the errata are against. `older`: there are others before it."""

    version: str
    date: datetime.date | None
    older: bool = False


@frozen(slots=False)
class ErrataSheet:
    """One errata sheet to write. `both_hands`: the other hand has one of its own."""

    context: BookContext
    errata: Errata
    earlier: EarlierRelease
    both_hands: bool = False

    @property
    def words(self) -> Words:
        return self.context.words

    def __call__(self, key: str, **values: object) -> str:
        """Words below [errata]; they can name the two versions."""
        return self.words(f"errata.{key}", **self._versions(), **values)

    def say(self, key: str, **values: object) -> Text:
        """The same, with its strong words."""
        return self.words.say(f"errata.{key}", **self._versions(), **values)

    def count(self, key: str, number: int, **values: object) -> str:
        return self.words.count(f"errata.{key}", number, **values)

    def _versions(self) -> dict[str, str]:
        return {"old": self.earlier.version, "new": self.context.pattern.version}

    @cached_property
    def names(self) -> dict[str, str]:
        """Colours' names by letter; those that are gone by their letter behind a hyphen."""
        gone = {
            f"-{change.before.letter}": change.before.name
            for change in self.errata.colours
            if change.before and not change.after
        }
        return {**gone, **{colour.letter: colour.name for colour in self.context.plan.colours}}

    def colour(self, letter: str) -> str:
        """`B kingfisher blue`."""
        return f"{letter.removeprefix('-')} {self.names.get(letter, '')}".strip()

    def colour_cell(self, letter: str) -> Cell:
        """A colour in a table, with its swatch if there is such a colour now."""
        swatch = None if letter.startswith("-") else letter
        return Cell(f"{letter.removeprefix('-')}  {self.names.get(letter, '')}", swatch=swatch)

    def piece(self, name: str) -> str:
        """`the reed leaf`; `the piece` where there is no other."""
        return self("piece", name=self.context.piece_name(name))
