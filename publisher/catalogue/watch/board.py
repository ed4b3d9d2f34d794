"""What the watch shows: the patterns' books and problems, and a number that counts changes."""

from __future__ import annotations

import threading
from collections.abc import Mapping, Sequence
from dataclasses import field
from typing import Any

from publisher.errors import Problem
from publisher.frozen import frozen


@frozen
class ShownBook:
    """A book as it was last made. `pages`: width and height of each, in points."""

    name: str
    file: str
    digest: str
    pages: tuple[tuple[float, float], ...]


@frozen
class BoardEntry:
    """One pattern. Its books stay those that were last made while it has problems."""

    slug: str
    books: tuple[ShownBook, ...] = ()
    problems: tuple[Problem, ...] = ()


@frozen
class BoardState:
    """The state that a page shows. `left`: patterns still to be looked at; `problems`: of them
    all."""

    revision: int = 0
    left: int = 0
    entries: Mapping[str, BoardEntry] = field(default_factory=dict)
    problems: tuple[Problem, ...] = ()
    closed: bool = False


class Board:
    """The state that the builder writes and the pages read; a page can wait for the next."""

    def __init__(self) -> None:
        self._changed = threading.Condition()
        self._state = BoardState()
        self.looked_at = ""
        """The slug that a page has asked for last: it is made first."""

    @property
    def state(self) -> BoardState:
        with self._changed:
            return self._state

    def show(
        self,
        left: int,
        entries: Mapping[str, BoardEntry] | None = None,
        problems: Sequence[Problem] = (),
        *,
        closed: bool = False,
    ) -> None:
        """Put a new state up, if it is another one."""
        with self._changed:
            old = self._state
            known = old.entries if entries is None else dict(entries)
            new = BoardState(old.revision, left, known, tuple(problems), closed)
            if new != old:
                self._state = BoardState(old.revision + 1, left, known, tuple(problems), closed)
                self._changed.notify_all()

    def after(self, revision: int, patience_s: float) -> BoardState:
        """The first state after this one, or the same if nothing changes for a while."""
        with self._changed:
            self._changed.wait_for(
                lambda: self._state.revision != revision or self._state.closed, patience_s
            )
            return self._state


def as_data(state: BoardState) -> dict[str, Any]:
    """The state for the page's script."""
    return {
        "revision": state.revision,
        "left": state.left,
        "closed": state.closed,
        "problems": [_problem(problem) for problem in state.problems],
        "patterns": [
            {
                "slug": entry.slug,
                "books": [
                    {"name": book.name, "file": book.file, "digest": book.digest}
                    | {"pages": [list(size) for size in book.pages]}
                    for book in entry.books
                ],
                "problems": [_problem(problem) for problem in entry.problems],
            }
            for _, entry in sorted(state.entries.items())
        ],
    }


def _problem(problem: Problem) -> dict[str, str]:
    return {"place": str(problem.place), "message": problem.message, "hint": problem.hint}
