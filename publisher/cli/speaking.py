"""Answer every error in a line that says what to do, and with an exit status; never a traceback."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable
from typing import Any

import click

from publisher.cli import INTERRUPTED
from publisher.errors import Problem, PublisherError


class SpeakingGroup(click.Group):
    """A group of commands that lets no exception through to a person."""

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
    from publisher.catalogue.working import unforeseen

    problem, trace = unforeseen("publisher", error)
    say_problems([problem])
    say_trace(trace)
    return 1


def speak_any_tongue() -> None:
    """Let a terminal that lacks a character show another instead of failing."""
    for stream in (sys.stdout, sys.stderr):
        reconfigure = getattr(stream, "reconfigure", None)
        if reconfigure:
            reconfigure(errors="replace")
