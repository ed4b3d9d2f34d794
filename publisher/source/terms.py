"""Find where a text of a pattern is written, and refuse terms of use that have no text."""

from __future__ import annotations

from collections.abc import Collection
from contextlib import suppress
from pathlib import Path

from publisher.errors import Place, Problem, SourceError
from publisher.model.pattern import Pattern
from publisher.tables.findings import KeyPath
from publisher.tables.text_files import read_text


def refuse_unknown_terms(pattern: Pattern, known: Collection[str]) -> None:
    """SourceError, at the line that names them, if the terms are none of those that are known."""
    if pattern.terms in known:
        return
    from publisher.tables.words import listed, nearest

    near = nearest(pattern.terms, known)
    hint = f"did you mean {near}?" if near else f"there are {listed(sorted(known))}."
    message = f"there are no terms of use named {pattern.terms}"
    hint += f" Your own would be a text, templates/terms/{pattern.terms}.txt"
    raise SourceError(Problem(written_at(pattern, ("terms",)), message, hint))


class Written:
    """A pattern's own file and its house's, as they are read again to find places in them."""

    def __init__(self, pattern: Pattern) -> None:
        from publisher.tables.places import Places

        self.places: dict[str, Places] = {}
        """By file; the pattern's own is the first."""
        for file in pattern.files:
            if Path(file).suffix == ".toml":
                with suppress(SourceError):  # gone meanwhile
                    self.places[file] = Places(read_text(Path(file)))

    def holding(self, way: KeyPath) -> str | None:
        """The first file with a value at a way of keys."""
        files = self.places.items()
        return next((file for file, places in files if places.value(way) is not None), None)


def written_at(pattern: Pattern, way: KeyPath) -> Place:
    """The line of what stands at a way of keys, of a text its first; the pattern's file where it
    is in none."""
    written = Written(pattern)
    file = written.holding(way)
    if file is None:
        return Place(pattern.path)
    places = written.places[file]
    start = places.start(way)
    return Place(file, start.line if start else places.line(way))
