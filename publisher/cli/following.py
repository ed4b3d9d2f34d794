"""Follow a run as it goes and sum it up: in lines, as JSON, or as a terminal can show it."""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Callable, Collection, Generator, Iterable
from contextlib import closing
from typing import TYPE_CHECKING, Protocol

import click

from publisher.cli.reporter import say_problems, say_trace
from publisher.cli.summary import (
    aftermath_in_words,
    as_data,
    in_words,
    reasons_in_words,
    what_became,
)
from publisher.errors import Problem

if TYPE_CHECKING:
    from publisher.catalogue.build.values import Aftermath, Outcome, Summary
    from publisher.catalogue.check_catalogue import Checked


class Reporter(Protocol):
    """Says what becomes of each pattern, and of them all."""

    def tell(self, outcome: Outcome) -> None: ...

    def problem(self, problem: Problem) -> None: ...

    def close(self) -> None:
        """End the report: all is told, or the run was broken off."""
        ...

    def sum_up(self, summary: Summary) -> None: ...


def choose_reporter(total: int, why: bool, as_json: bool) -> Reporter:
    """The way of telling that suits where the words go."""
    if as_json:
        return InJson()
    if sys.stdout.isatty() and sys.stderr.isatty():
        from publisher.cli.terminal import OnTerminal

        return OnTerminal(total, why)
    return InLines(why)


def follow(
    outcomes: Generator[Outcome, None, None],
    total: int,
    choose_reporter: Reporter,
    keep_going: bool,
    aftermath: Callable[[], Aftermath],
) -> Summary:
    """Tell every outcome as it comes, each problem once; stop at the first failure if asked to.

    `aftermath` is called when all patterns are done.
    """
    from publisher.catalogue.build.values import Summary

    started = time.perf_counter()
    seen: list[Outcome] = []
    said: set[Problem] = set()
    with closing(outcomes), closing(choose_reporter):
        for outcome in outcomes:
            seen.append(outcome)
            for problem in dict.fromkeys(outcome.problems):
                if problem not in said:
                    choose_reporter.problem(problem)
            said.update(outcome.problems)
            say_trace(outcome.trace)
            choose_reporter.tell(outcome)
            if outcome.problems and not keep_going:
                break
    after = aftermath()
    if after.index:
        say_problems(problem for problem in after.index.problems if problem not in said)
        say_trace(after.index.trace)
    seconds = time.perf_counter() - started
    summary = Summary(tuple(seen), total - len(seen), seconds, after)
    choose_reporter.sum_up(summary)
    return summary


class InLines:
    """A line a pattern, for logs and pipes."""

    def __init__(self, why: bool) -> None:
        self._why = why

    def tell(self, outcome: Outcome) -> None:
        for line in reasons_in_words(outcome) if self._why else ():
            click.echo(line)
        if not outcome.up_to_date:
            click.echo(f"{outcome.slug}: {what_became(outcome)}")

    def problem(self, problem: Problem) -> None:
        say_problems([problem])

    def close(self) -> None:
        pass

    def sum_up(self, summary: Summary) -> None:
        for line in (in_words(summary), *aftermath_in_words(summary.after, self._why)):
            click.echo(line)


class InJson:
    """The summary alone, for scripts."""

    def tell(self, outcome: Outcome) -> None:
        pass

    def problem(self, problem: Problem) -> None:
        say_problems([problem])

    def close(self) -> None:
        pass

    def sum_up(self, summary: Summary) -> None:
        click.echo(json.dumps(as_data(summary), indent=1))


def tell_checked(shared: Collection[Problem], found: Iterable[Checked]) -> int:
    """Say what was found in what all share, and in each pattern, each problem once; the exit
    status."""
    say_problems(shared)
    said = set(shared)
    patterns = advice = 0
    for checked in found:
        patterns += 1
        advice += len(checked.advice)
        say_problems(p for p in dict.fromkeys(checked.problems) if p not in said)
        said.update(checked.problems)
        say_trace(checked.trace)
        for line in checked.advice:
            click.echo(line)
    problems = f"{len(said) or 'no'} problem{'s' * (len(said) != 1)}"
    told = f"{advice or 'no'} piece{'s' * (advice != 1)} of advice"
    click.echo(f"{patterns} pattern{'s' * (patterns != 1)}: {problems}, {told}")
    return 1 if said else 0
