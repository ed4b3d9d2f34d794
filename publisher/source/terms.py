"""See that there is a text of the terms of use that a pattern or its house names."""

from __future__ import annotations

from collections.abc import Collection

from publisher.errors import Problem, SourceError
from publisher.model.pattern import Pattern
from publisher.source.written import written_at


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
