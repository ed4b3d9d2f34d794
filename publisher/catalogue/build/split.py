"""Part a job of many targets among workers, and put together what they bring back."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import replace

from publisher.catalogue.build.values import COMPANIONS, BuildJob, Result, Target


def split_job(job: BuildJob, most: int) -> tuple[BuildJob, ...]:
    """Split the job into at most so many.

    Editions are dealt out in turns, each with all its papers, which share their drawings.
    """
    dealt = _dealt(job.targets, most)
    if len(dealt) == 1:
        return (job,)
    others = {target.name for target in job.targets}
    return tuple(
        replace(job, targets=own, packs=_without(job.packs, others - {one.name for one in own}))
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
        packs={slot: packed for result in results for slot, packed in result.packs.items()},
        shared={key: entry for result in results for key, entry in result.shared.items()},
        seconds=max(result.seconds for result in results),
        trace=next((result.trace for result in results if result.trace), ""),
    )


def _without(packs: Mapping[str, bytes], slots: Collection[str]) -> dict[str, bytes]:
    return {slot: packed for slot, packed in packs.items() if slot not in slots}
