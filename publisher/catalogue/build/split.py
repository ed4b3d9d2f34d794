"""Part a job of many targets among workers, and put together what they bring back."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TypeVar

from publisher.catalogue.build.values import COMPANIONS, BuildJob, Result, Target

_Kept = TypeVar("_Kept")


def split_job(job: BuildJob, most: int) -> tuple[BuildJob, ...]:
    """Split the job into at most so many.

    Editions are dealt out in turns, each with all its papers, which share their drawings.
    """
    dealt = _dealt(job.targets, most)
    if len(dealt) == 1:
        return (job,)
    return tuple(
        replace(job, targets=own, pages=_only(job.pages, own), parts=_only(job.parts, own))
        for own in dealt
    )


def number_of_portions(targets: Sequence[Target], most: int) -> int:
    """Return how many parts a job with these targets is split into."""
    return len(_dealt(targets, most))


def _dealt(targets: Sequence[Target], most: int) -> list[tuple[Target, ...]]:
    """Deal targets out by edition; what lies beside the books is little work, and goes with the
    first."""
    editions = list(dict.fromkeys(one.edition for one in targets if one != COMPANIONS))
    count = max(1, min(most, len(editions)))
    turn = {edition: place % count for place, edition in enumerate(editions)}
    return [
        tuple(one for one in targets if turn.get(one.edition, 0) == portion)
        for portion in range(count)
    ]


def together(results: Sequence[Result], targets: Sequence[Target]) -> Result:
    """One result of all portions, its targets in this order; what several tell is told once."""
    first, *others = results
    if not others:
        return first
    made = sorted(
        (made for result in results for made in result.made),
        key=lambda made: targets.index(made.target),
    )
    problems = dict.fromkeys(problem for result in results for problem in result.problems)
    return Result(
        first.slug,
        tuple(made),
        tuple(problems),
        next((result.advice for result in results if result.advice), ()),
        next((result.knots for result in results if result.knots), ()),
        large=any(result.large for result in results),
        plans={hand: plan for result in results for hand, plan in result.plans.items()},
        figures={name: file for result in results for name, file in result.figures.items()},
        seconds=max(result.seconds for result in results),
        trace=next((result.trace for result in results if result.trace), ""),
    )


def _only(kept: Mapping[Target, _Kept], targets: Sequence[Target]) -> dict[Target, _Kept]:
    return {target: kept[target] for target in targets if target in kept}
