"""Say what is wrong, where, and what to do: problems as values, and the one tree of exceptions."""

from __future__ import annotations

import errno
import os

from publisher.frozen import frozen

INTERRUPTED = 130
"""The exit status after Ctrl-C, by custom: 128 and the number of the interrupt signal."""


@frozen(order=True)
class Place:
    """A place in a user's file. Lines and columns count from 1."""

    file: str
    line: int | None = None
    column: int | None = None

    def __str__(self) -> str:
        return ":".join(str(part) for part in (self.file, self.line, self.column) if part)


@frozen(order=True)
class Problem:
    """One mistake: its place, what is wrong, and what to do about it."""

    place: Place
    message: str
    hint: str

    def __str__(self) -> str:
        return f"{self.place}: {self.message}; {self.hint}"


def by_place(problem: Problem) -> tuple[str, int, int]:
    """The key to sort problems by as they stand in their files."""
    return problem.place.file, problem.place.line or 0, problem.place.column or 0


TOO_MANY_OPEN = "no more files can be open at once on this machine"
MORE_OPEN = "raise its limit, such as by `ulimit -n 4096`, or do less at a time"


def is_at_limit(error: BaseException | None) -> bool:
    """Return whether it was raised because too many files are open, here or where it comes from."""
    while error is not None:
        if isinstance(error, OSError) and error.errno in (errno.EMFILE, errno.ENFILE):
            return True
        if isinstance(error, ImportError) and os.strerror(errno.EMFILE) in str(error):
            return True  # of a library that could not be opened
        error = error.__cause__ or error.__context__
    return False


class PublisherError(Exception):
    """Anything that a user can mend. `problems` holds every one that was found."""

    exit_status = 1

    def __init__(self, *problems: Problem) -> None:
        super().__init__("\n".join(str(problem) for problem in problems))
        self.problems = problems

    def __reduce__(self) -> tuple[type[PublisherError], tuple[Problem, ...]]:
        return type(self), self.problems


class SourceError(PublisherError):
    """A pattern, house or knot file is wrong."""


class TemplateError(PublisherError):
    """A template, word list, edition or look is wrong."""


class FontError(PublisherError):
    """A font is missing, or lacks a character that is to be printed."""


class OutputError(PublisherError):
    """An error of output: what was made could not be written."""


class UsageError(PublisherError):
    """The call itself was wrong."""

    exit_status = 2
