"""Follow a run as it goes and sum it up: in lines, as JSON, or as a terminal can show it."""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Callable, Collection, Generator, Iterable, Iterator
from contextlib import closing
from dataclasses import asdict
from typing import TYPE_CHECKING, Any, Protocol

import click

from publisher.cli.speaking import say_problems, say_trace
from publisher.errors import Problem

if TYPE_CHECKING:
    from publisher.catalogue.check import Checked
    from publisher.catalogue.values import Aftermath, Outcome, Summary


class Teller(Protocol):
    """Says what becomes of each pattern, and of them all."""

    def tell(self, outcome: Outcome) -> None: ...

    def problem(self, problem: Problem) -> None: ...

    def close(self) -> None:
        """All is told, or the run was broken off."""
        ...

    def sum_up(self, summary: Summary) -> None: ...


def teller(total: int, why: bool, as_json: bool) -> Teller:
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
    teller: Teller,
    keep_going: bool,
    aftermath: Callable[[], Aftermath],
) -> Summary:
    """Tell every outcome as it comes, each problem once; stop at the first failure if asked to.

    `aftermath` is called when all patterns are done.
    """
    from publisher.catalogue.values import Summary

    started = time.perf_counter()
    seen: list[Outcome] = []
    said: set[Problem] = set()
    with closing(outcomes), closing(teller):
        for outcome in outcomes:
            seen.append(outcome)
            for problem in dict.fromkeys(outcome.problems):
                if problem not in said:
                    teller.problem(problem)
            said.update(outcome.problems)
            say_trace(outcome.trace)
            teller.tell(outcome)
            if outcome.problems and not keep_going:
                break
    after = aftermath()
    if after.index:
        say_problems(problem for problem in after.index.problems if problem not in said)
        say_trace(after.index.trace)
    seconds = time.perf_counter() - started
    summary = Summary(tuple(seen), total - len(seen), seconds, after)
    teller.sum_up(summary)
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


def reasons_in_words(outcome: Outcome) -> Iterator[str]:
    for target, reasons in outcome.reasons.items():
        yield f"{outcome.slug} {target.name}: {'; '.join(reasons) or 'nothing has changed'}"


def what_became(outcome: Outcome) -> str:
    """One pattern's outcome in a few words."""
    if outcome.problems:
        made = f", but {_files(outcome)} made" if outcome.made else ""
        return f"failed{made}"
    if outcome.made:
        without = f", without {', '.join(outcome.left_out)}" if outcome.left_out else ""
        return f"made {_files(outcome)}{without}"
    return "came out as it was" if not outcome.up_to_date else "up to date"


def _files(outcome: Outcome) -> str:
    """The books by their paths; the companions that lie beside them are counted."""
    books = [str(path) for path in outcome.made if path.suffix == ".pdf"]
    beside = len(outcome.made) - len(books)
    if not books:
        return ", ".join(map(str, outcome.made))
    return ", ".join(books) + (f" and {beside} more beside it" if beside else "")


def in_words(summary: Summary) -> str:
    """The whole run in a sentence."""
    failed, current = len(summary.failed), summary.up_to_date
    done = len(summary.outcomes) - failed - current
    parts = [f"{done} made", f"{failed} failed", f"{current} up to date"]
    if summary.left:
        parts.append(f"{summary.left} not tried")
    total = len(summary.outcomes) + summary.left
    told = f"{total} pattern{'s' * (total != 1)}: {', '.join(parts)}, in {summary.seconds:.1f} s"
    if summary.slowest and done > 1:
        told += f"; the slowest was {summary.slowest.slug}, {summary.slowest.seconds:.1f} s"
    advice = sum(len(outcome.advice) for outcome in summary.outcomes)
    if advice:
        told += f"; {advice} piece{'s' * (advice != 1)} of advice (see: publisher check)"
    return told


def aftermath_in_words(after: Aftermath, why: bool) -> Iterator[str]:
    """The index, if anything became of it; what nothing makes any more, and what to do about it."""
    if after.index and why:
        yield from reasons_in_words(after.index)
    if after.index and not after.index.up_to_date:
        yield f"index: {what_became(after.index)}"
    done = "removed" if after.pruned else "left over:"
    for leftover in after.leftovers:
        yield f"{done} {leftover.path} ({leftover.why})"
    if after.leftovers and not after.pruned:
        yield "`publisher build --prune` removes what is left over"
    yield from map(str, after.damaged)


def as_data(summary: Summary) -> dict[str, Any]:
    """The summary for scripts."""
    return {
        "patterns": [_outcome_as_data(outcome) for outcome in summary.outcomes],
        "made": [str(path) for path in summary.made],
        "failed": [outcome.slug for outcome in summary.failed],
        "up_to_date": summary.up_to_date,
        "not_tried": summary.left,
        **_aftermath_as_data(summary.after),
        "seconds": round(summary.seconds, 3),
    }


def _aftermath_as_data(after: Aftermath) -> dict[str, Any]:
    done = "pruned" if after.pruned else "left_over"
    index = {"index": _outcome_as_data(after.index)} if after.index else {}
    damaged = {"damaged": [problem.place.file for problem in after.damaged]}
    return {
        **index,
        done: [str(file.path) for file in after.leftovers],
        **(damaged if after.damaged else {}),
    }


def _outcome_as_data(outcome: Outcome) -> dict[str, Any]:
    why = {target.name: list(reasons) for target, reasons in outcome.reasons.items() if reasons}
    return {
        "slug": outcome.slug,
        "made": [str(path) for path in outcome.made],
        "why": why,
        "problems": [_problem_as_data(problem) for problem in outcome.problems],
        "advice": len(outcome.advice),
        "seconds": round(outcome.seconds, 3),
    }


def _problem_as_data(problem: Problem) -> dict[str, Any]:
    return {**asdict(problem.place), "message": problem.message, "hint": problem.hint}


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
