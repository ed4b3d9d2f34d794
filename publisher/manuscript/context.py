"""What every section is written from: pattern, plan, knots, edition, words."""

from __future__ import annotations

from publisher.frozen import frozen
from publisher.knots import Knot, KnotLibrary
from publisher.manuscript.blocks import Beside, Block
from publisher.manuscript.edition import Edition
from publisher.manuscript.measures import Measures
from publisher.manuscript.words import Phrase, Words
from publisher.model.pattern import Pattern
from publisher.model.plan import ChartPlan, Plan
from publisher.store import NO_STORE, Store
from publisher.templates import Templates


@frozen
class BookContext:
    """One book to write."""

    pattern: Pattern
    plan: Plan
    knots: KnotLibrary
    edition: Edition
    words: Words
    measures: Measures
    templates: Templates
    store: Store = NO_STORE

    @property
    def charts(self) -> tuple[ChartPlan, ...]:
        """The pieces that are worked from a chart."""
        return self.plan.charts

    def piece_name(self, piece: str) -> str:
        """A piece's id as words: `reed leaf`."""
        return piece.replace("-", " ")

    def piece_title(self, piece: str) -> str:
        """A piece's name at the head of something: `Reed leaf`."""
        name = self.piece_name(piece)
        return name[0].upper() + name[1:]

    def of_piece(self, words: Phrase, piece: str) -> Phrase:
        """Words at the head of a piece's pages, with its name where there are several charts."""
        if len(self.charts) == 1:
            return words
        return Phrase.of(f"{words} · {self.piece_title(piece)}", words.key, words.file)

    def has_section(self, name: str) -> bool:
        """Return whether a section of the edition has anything to say of this plan."""
        if name in ("begin", "chart", "rows"):
            return bool(self.charts)
        if name == "knots":
            return bool(self.used_knots)
        if name == "parts":
            return bool(self.plan.parts)
        return name != "assembly" or bool(self.plan.assembly)

    @property
    def used_knots(self) -> tuple[Knot, ...]:
        """The knots of the glossary, in the order that a maker meets them."""
        return tuple(self.knots[name] for name in self.plan.knot_names)

    def beside(
        self, parts: tuple[tuple[Block, ...], ...], shares: tuple[float, ...]
    ) -> list[Block]:
        """Blocks side by side, or under one another in an edition of one column."""
        if self.edition.option("one_column"):
            return [block for part in parts for block in part]
        return [Beside(parts, shares)]

    @property
    def on_paper(self) -> bool:
        """Are there pages, with pictures on them?"""
        return self.edition.form == "pages"

    @property
    def dated(self) -> str:
        """The pattern's date in words, "" where it has none."""
        date = self.pattern.date
        if date is None:
            return ""
        return f"{date.day} {self.words(f'months.{date.month}')} {date.year}"

    def yarn_names(self) -> tuple[str, ...]:
        """The yarns' names, each once, in the order of the colours."""
        return tuple(dict.fromkeys(colour.yarn.name for colour in self.plan.colours))


def knot_target(name: str) -> str:
    """Return where a knot's drawing stands."""
    return f"knot-{name}"
