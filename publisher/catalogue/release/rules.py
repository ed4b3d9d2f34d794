"""Decide whether a draft may be released: never two contents under one version, never backwards."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import NoReturn

from publisher.catalogue.build.digests import MISSING
from publisher.catalogue.build.job import do, plan_of
from publisher.catalogue.build.packs import plan_slot
from publisher.catalogue.build.records import BuildRecord as BuildRecord
from publisher.catalogue.build.records import changes
from publisher.catalogue.build.run import BuildRun
from publisher.catalogue.build.values import Result, Target
from publisher.catalogue.release.draft import Draft
from publisher.catalogue.release.outcome import ReleaseError
from publisher.catalogue.release.record import FoundRelease, ReleaseRecord, after, number_of
from publisher.errata.compare import find_errata
from publisher.errata.compare.changes import Errata
from publisher.errata.sheet import changes_in_brief
from publisher.errors import Problem
from publisher.manuscript.words import read_words


def released_already(
    run: BuildRun, draft: Draft, earlier: Sequence[FoundRelease]
) -> FoundRelease | None:
    """The release of this version, if it is this very content in these very pages; None where
    there is none yet. ReleaseError where the version may not be used."""
    number = number_of(draft.pattern.version)
    same = [one for one in earlier if one.number == number]
    if same:
        return _checked(run, draft, same[0])
    if earlier and earlier[-1].number > number:
        last = earlier[-1].folder.name
        _refuse(
            draft, f"version {draft.pattern.version} comes before {last}, which is released", last
        )
    return None


def unchanged(run: BuildRun, release: FoundRelease, patterns: Path) -> bool:
    """Is everything that a sound release was made from as it was? Then nothing need be drawn."""
    record = release.record
    if record is None or release.problems or _missing(record, run.targets):
        return False
    return not _reasons(run, record, patterns)


def _reasons(run: BuildRun, record: ReleaseRecord, patterns: Path) -> tuple[str, ...]:
    """Return what is not as it was, in words. `patterns`: the folder that the pattern is in."""
    made = BuildRecord(record.made_from, "", {})
    return changes(made, lambda name: run.present.digest(name, patterns))


def _missing(record: ReleaseRecord, targets: Sequence[Target]) -> list[str]:
    there = {(edition.edition, edition.paper) for edition in record.editions}
    return [target.name for target in targets if (target.edition, target.paper) not in there]


def _checked(run: BuildRun, draft: Draft, release: FoundRelease) -> FoundRelease:
    record, version = release.record, draft.pattern.version
    if record is None or release.problems:
        raise ReleaseError(*release.problems)
    when = f"version {record.version} was released on {record.released}"
    if record.version != version:
        _refuse(
            draft, f"{version} is the same version as {record.version}, which is released", version
        )
    for errata in errata_by_hand(record, draft).values():
        told = changes_in_brief(errata, read_words(draft.templates))
        _refuse(draft, f"{when} with other content: {told}", version)
    more = _missing(record, run.targets)
    if more:
        _refuse(draft, f"{when} without {', '.join(more)}, and is never added to", version)
    other = _drawn_otherwise(run, draft, record)
    if other:
        why = (
            "; ".join(_reasons(run, record, Path(draft.pattern.path).parent))
            or "something has changed"
        )
        told = f"{', '.join(other)} would come out otherwise now ({why})"
        _refuse(draft, f"{when}, and {told}", version)
    return release


def errata_by_hand(record: ReleaseRecord, draft: Draft) -> dict[str, Errata]:
    """Return what has changed since a release for each hand that it was for; nothing where that is
    so."""
    found = {
        hand: find_errata(record.contents[hand], handed.content)
        for hand, handed in draft.hands.items()
        if hand in record.contents
    }
    return {hand: errata for hand, errata in found.items() if not errata.is_empty}


def _drawn_otherwise(run: BuildRun, draft: Draft, record: ReleaseRecord) -> list[str]:
    """The editions whose pages would not be the same, found by laying them out again."""
    known = {(one.edition, one.paper): one.layout for one in record.editions}
    return [
        target.name
        for target, layout in layouts(run, draft, run.targets).items()
        if known.get((target.edition, target.paper), MISSING) != layout
    ]


def layouts(run: BuildRun, draft: Draft, targets: Sequence[Target]) -> dict[Target, str]:
    """The digests of these targets' layouts, as they are without any price: that another one, in
    the house's file, is no reason for a new version."""
    result = dry_result(run, draft.without_prices, targets)
    return {made.target: made.digest for made in result.made}


def dry_result(run: BuildRun, draft: Draft, targets: Sequence[Target]) -> Result:
    """Targets laid out and nothing printed. ReleaseError with the problems of all of them."""
    toolkit = run.stocked
    packs = {
        plan_slot(hand): plan_of(toolkit, handed.pattern, b"", handed.plan)[1]
        for hand, handed in draft.hands.items()
    }
    result = do(toolkit, run.dry_job(draft.pattern, packs, targets))
    raise_problems(result.problems, result.trace)
    return result


def raise_problems(problems: Sequence[Problem], trace: str) -> None:
    """ReleaseError with all of them; nothing where there are none."""
    if problems:
        error = ReleaseError(*problems)
        error.trace = trace
        raise error


def _refuse(draft: Draft, message: str, last: str) -> NoReturn:
    small, large = after(last)
    hint = f"raise the version: {large}, or {small} for a small change"
    raise ReleaseError(Problem(draft.version_place, message, hint))
