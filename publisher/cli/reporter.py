"""Answer every error in a line that says what to do, and with an exit status; never a traceback."""

from __future__ import annotations

import codecs
import os
import sys
import traceback
from collections.abc import Iterable
from contextlib import suppress
from typing import Any

import click

from publisher.errors import INTERRUPTED, Place, Problem, PublisherError


class SpeakingGroup(click.Group):
    """A group of commands that lets no exception through to a person."""

    def main(self, *args: Any, **kwargs: Any) -> Any:
        """Run the command as click does, but for words that can't be written where they should
        go."""
        try:
            return super().main(*args, **kwargs)
        except OSError as error:
            if not _is_of_the_telling(error):
                raise
            _say_unheard(error)
            sys.exit(1)

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except (click.ClickException, click.exceptions.Exit, click.Abort, BrokenPipeError):
            raise
        except PublisherError as error:
            say_problems(error.problems)
            ctx.exit(error.exit_status)
        except KeyboardInterrupt:
            click.echo("stopped; every file is whole, as it was or as it is now", err=True)
            ctx.exit(INTERRUPTED)
        except Exception as error:
            if _is_of_the_telling(error):
                raise
            ctx.exit(_say_unforeseen(error))


def say_problems(problems: Iterable[Problem]) -> None:
    """One line each, to standard error."""
    for problem in problems:
        click.echo(str(problem), err=True)


def say_trace(trace: str) -> None:
    """For those who mend the program, and only if they ask."""
    if trace and os.environ.get("PUBLISHER_DEBUG") == "1":
        click.echo(trace, err=True)


def _say_unforeseen(error: Exception) -> int:
    from publisher.catalogue.build.job import unforeseen

    problem, trace = unforeseen("publisher", error)
    say_problems([problem])
    say_trace(trace)
    return 1


def _is_of_the_telling(error: Exception) -> bool:
    """Return whether it was raised where words are written out: to a file on a full disk, say."""
    frames = (frame for frame, _ in traceback.walk_tb(error.__traceback__))
    return isinstance(error, OSError) and any(
        frame.f_code is click.echo.__code__ for frame in frames
    )


def _say_unheard(error: OSError) -> None:
    """Say that what was to be told is lost. It is not tried again when Python ends and empties its
    buffers."""
    reason = (error.strerror or str(error)).lower()
    message = f"what this call tells could not be written ({reason})"
    with suppress(OSError):  # where that is what can't be written to
        say_problems([Problem(Place("publisher"), message, "see to where it goes, and call again")])
    nowhere = os.open(os.devnull, os.O_WRONLY)
    for stream in (sys.stdout, sys.stderr):
        with suppress(OSError, ValueError):  # a stream that is no file
            os.dup2(nowhere, stream.fileno())


def speak_any_tongue() -> None:
    """Let a console that lacks a character show it in ASCII instead of failing."""
    codecs.register_error("in-ascii", _in_ascii)
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure:
            reconfigure(errors="in-ascii")


def _in_ascii(error: UnicodeError) -> tuple[str, int]:
    """Return what to write for characters that can't be encoded, and where to go on."""
    from anyascii import anyascii

    assert isinstance(error, UnicodeEncodeError)
    lacking = error.object[error.start : error.end]
    return "".join(anyascii(character) or "?" for character in lacking), error.end
