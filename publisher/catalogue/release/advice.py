"""Warn a writer whose pattern is no longer what was released under its version."""

from __future__ import annotations

from pathlib import Path

from publisher.catalogue.build.run import BuildRun
from publisher.catalogue.release.draft import read_draft
from publisher.catalogue.release.record import earlier_releases, number_of
from publisher.catalogue.release.rules import errata_by_hand
from publisher.errata.sheet import changes_in_brief
from publisher.manuscript.words import Words


def release_advice(run: BuildRun, path: Path, version: str, words: Words) -> tuple[str, ...]:
    """`FILE:LINE: advice: …` where buyers of this version have something else; nothing where it
    was never released, or its record can't be read (a release tells that)."""
    folder = run.workshop.out / path.stem / "releases"
    number = number_of(version)
    same = [one for one in earlier_releases(folder, whole=False) if one.number == number]
    record = same[0].record if same else None
    if record is None:
        return ()
    draft = read_draft(run, path)
    errata = next(iter(errata_by_hand(record, draft).values()), None)
    if errata is None:
        return ()
    changes = changes_in_brief(errata, words)
    told = words("released.otherwise", version=record.version, changes=changes)
    return (f"{draft.version_place}: advice: {told}",)
