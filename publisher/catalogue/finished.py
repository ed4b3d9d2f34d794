"""Take up a PDF that is already made, and put others beside it, whole or not at all."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path

from publisher.catalogue.build.publish_files import put_without_trace
from publisher.errors import (
    MORE_OPEN,
    OutputError,
    Place,
    Problem,
    SourceError,
    UsageError,
    is_at_limit,
)


def read_finished(path: Path) -> bytes:
    """A file's bytes. UsageError where it is not there; SourceError where it can't be read."""
    try:
        return path.read_bytes()
    except FileNotFoundError:
        problem = Problem(Place(str(path)), "there is no such file", "give the path of a PDF")
        raise UsageError(problem) from None
    except IsADirectoryError:
        problem = Problem(Place(str(path)), "this is a folder", "give the path of a PDF in it")
        raise UsageError(problem) from None
    except OSError as error:
        message = f"this can't be read ({error.strerror})"
        hint = MORE_OPEN if is_at_limit(error) else "see to its permissions"
        problem = Problem(Place(str(path)), message, hint)
        raise SourceError(problem) from None


@contextmanager
def told_of(path: Path) -> Iterator[None]:
    """Let what the press finds wrong with a PDF be told with the file's own name."""
    try:
        yield
    except SourceError as error:
        raise SourceError(*(_placed(problem, path) for problem in error.problems)) from None


def put_finished(path: Path, content: bytes) -> bool:
    """Make `path` whole with this content; False where it has it. OutputError if it can't be."""
    try:
        return put_without_trace(path, content)
    except OutputError as error:
        raise OutputError(*(_for_into(problem) for problem in error.problems)) from None


def _placed(problem: Problem, path: Path) -> Problem:
    return replace(problem, place=Place(str(path))) if problem.place.file == "PDF" else problem


def _for_into(problem: Problem) -> Problem:
    hint = problem.hint.replace("--out", "--into").replace("build again", "try again")
    return replace(problem, hint=hint)
