"""What every composing function needs at hand: the look, the colours, the book's own words."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping
from dataclasses import field

from publisher.fonts.shaping import MM_PER_PT
from publisher.frozen import frozen
from publisher.layout.boxes import Group
from publisher.manuscript.blocks import Manuscript, Span, Text
from publisher.manuscript.markup import with_pages
from publisher.model.look import Look, TypeStyle
from publisher.model.pattern import YarnColour
from publisher.store import NO_STORE, Store

_LONGEST_LINE_EM = 37.0  # about 75 characters of the text face


@frozen
class LayoutContext:
    """One book's layout in work. `serials` number its structure groups."""

    manuscript: Manuscript
    store: Store = NO_STORE
    serials: Iterator[int] = field(default_factory=itertools.count, compare=False)

    @property
    def look(self) -> Look:
        return self.manuscript.look

    @property
    def words(self) -> Mapping[str, str]:
        return self.manuscript.words

    @property
    def colours(self) -> tuple[YarnColour, ...]:
        return self.manuscript.colours

    def style(self, role: str) -> TypeStyle:
        return self.look.type[role]

    def group(self, tag: str) -> Group:
        """A new structure element."""
        return Group(tag, next(self.serials))

    def measure_mm(self, style: TypeStyle) -> float:
        """The longest line that reads well in a style."""
        return _LONGEST_LINE_EM * style.size_pt * MM_PER_PT

    def spans(self, text: str) -> Text:
        """Plain words as spans, with the pages that they name."""
        return with_pages(text)

    def key_words(self, letter: str, name: str) -> Text:
        """A colour as it is named in keys: its letter, strong, and its name."""
        return (Span(letter, strong=True), Span(f" {name}"))
