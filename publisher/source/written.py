"""Find where a text of a pattern is written: in its own file, or in its house's."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from publisher.errors import Place, SourceError
from publisher.source.files import read_text
from publisher.source.findings import KeyPath
from publisher.source.pattern import Pattern


def written_at(pattern: Pattern, way: KeyPath) -> Place:
    """The line of the text at a way of keys; the pattern's file where it is in none."""
    from publisher.source.syntax_tree import Places

    for file in pattern.files:
        with suppress(SourceError):  # a picture, or gone meanwhile
            start = Places(read_text(Path(file))).start(way)
            if start:
                return Place(file, start.line)
    return Place(pattern.path)
