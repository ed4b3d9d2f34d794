"""See that there is a text of the terms of use that a pattern or its house names."""

from __future__ import annotations

from collections.abc import Collection
from contextlib import suppress
from pathlib import Path

from publisher.errors import Place, Problem, SourceError
from publisher.source.files import read_text
from publisher.source.pattern import Pattern


def refuse_unknown_terms(pattern: Pattern, known: Collection[str]) -> None:
    """SourceError, at the line that names them, if the terms are none of those that are known."""
    if pattern.terms in known:
        return
    from publisher.source.words import listed, nearest

    near = nearest(pattern.terms, known)
    hint = f"did you mean {near}?" if near else f"there are {listed(sorted(known))}."
    message = f"there are no terms of use named {pattern.terms}"
    hint += f" Your own would be a text, templates/terms/{pattern.terms}.txt"
    raise SourceError(Problem(_place(pattern), message, hint))


def _place(pattern: Pattern) -> Place:
    """In the pattern's file, or in its house's where that alone names them."""
    from publisher.source.syntax_tree import Places

    for file in pattern.files:
        with suppress(SourceError):  # a picture, or gone meanwhile
            start = Places(read_text(Path(file))).start(("terms",))
            if start:
                return Place(file, start.line)
    return Place(pattern.path)
