"""Sum up a run in words for people, and as data for scripts."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

from publisher.errors import Problem

if TYPE_CHECKING:
    from publisher.catalogue.build.values import Aftermath, Outcome, Summary


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
