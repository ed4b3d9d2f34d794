"""Release a pattern: build it, bundle it, tell what changed since the last release, record it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Literal

from publisher.catalogue.build.build import begin
from publisher.catalogue.build.pipeline import Pipeline
from publisher.catalogue.build.publish_files import work_folder
from publisher.catalogue.build.reading import date_of, today
from publisher.catalogue.build.run import BuildRun
from publisher.catalogue.build.values import COMPANIONS, Target
from publisher.catalogue.calls import PAPERS, known_papers, several
from publisher.catalogue.release.bundle import archive, put_folder
from publisher.catalogue.release.draft import Draft, keep_plans, read_draft
from publisher.catalogue.release.gather import (
    Built,
    Correcting,
    build_editions,
    cutting_lists,
    errata_files,
    errata_name,
    errata_text,
    listing_files,
    terms_text,
)
from publisher.catalogue.release.outcome import Order, Released, ReleaseError
from publisher.catalogue.release.record import (
    MANIFEST,
    RECORD,
    FoundRelease,
    ReleaseRecord,
    earlier_releases,
    filed,
    head_of,
    manifest,
    number_of,
)
from publisher.catalogue.release.rules import (
    dry_result,
    errata_by_hand,
    released_already,
    unchanged,
)
from publisher.catalogue.workshop import Workshop, read_templates, workshop_in
from publisher.errata.sheet import changes_in_brief
from publisher.frozen import frozen
from publisher.manuscript.edition import edition_form, is_released
from publisher.manuscript.words import read_words


def release_pattern(
    pattern: str,
    *,
    patterns: str | Path = "patterns",
    out: str | Path = "build",
    templates: str | Path | None = "templates",
    editions: Sequence[str] = (),
    papers: Sequence[str] = PAPERS,
    dry: bool = False,
) -> Released:
    """Make the release of a pattern's version in `out`/SLUG/releases/VERSION.

    `editions`: those whose files don't say `release = false`, if none is named. `dry`: only tell
    what would be made. A PublisherError says what keeps it from being released; nothing is left
    half made.
    """
    return release(order_of(workshop_in(patterns, templates, out), pattern, editions, papers, dry))


def order_of(
    workshop: Workshop,
    pattern: str,
    editions: Sequence[str],
    papers: Sequence[str],
    dry: bool,
) -> Order:
    """Return what is to be released. UsageError where the call is wrong."""
    path = workshop.find([pattern])[0]
    return Order(workshop, path, several("editions", editions), known_papers(papers), dry)


def release(order: Order, pipeline: Pipeline | None = None) -> Released:
    """The same for an order, with other verbs than the rooms' own if some are given."""
    run = _run(order, pipeline)
    folder = order.workshop.out / order.path.stem / "releases"
    earlier = earlier_releases(folder)
    known = _known(run, order.path, earlier)
    if known:
        return known
    draft = read_draft(run, order.path)
    same = released_already(run, draft, earlier)
    version = draft.pattern.version
    if same:
        return Released(order.path.stem, version, same.folder, "there", notes=_damaged(earlier))
    job = _job(run, draft, folder / version, earlier)
    return job.rehearse() if order.dry else job.make()


def _run(order: Order, pipeline: Pipeline | None) -> BuildRun:
    """One run for all editions asked for; one as text is made once, whatever the papers."""
    templates = read_templates(order.workshop.templates)
    chosen = order.editions or [
        name for name in templates.names("editions") if is_released(templates, name)
    ]
    run = begin(order.workshop, chosen, order.papers, pipeline)
    targets = [
        target
        for target in run.targets
        if target == COMPANIONS
        or target.paper == order.papers[0]
        or edition_form(templates, target.edition) == "pages"
    ]
    return replace(run, targets=tuple(sorted(targets, key=lambda one: _rank(one, chosen))))


def _rank(target: Target, chosen: Sequence[str]) -> int:
    """The companions first, then the booklet, from which the listing's pictures are."""
    if target == COMPANIONS:
        return -2
    return -1 if target.edition == "booklet" else chosen.index(target.edition)


def _known(run: BuildRun, path: Path, earlier: Sequence[FoundRelease]) -> Released | None:
    """The release that is there, if nothing at all has changed since it was made."""
    pattern = run.toolkit.pipeline.read_pattern(path)
    number = number_of(pattern.version)
    for one in earlier:
        if one.folder.name == pattern.version and unchanged(run, one, path.parent):
            notes = _damaged(other for other in earlier if other.number != number)
            return Released(path.stem, pattern.version, one.folder, "there", notes=notes)
    return None


def _damaged(releases: Iterable[FoundRelease]) -> tuple[str, ...]:
    return tuple(str(problem) for one in releases for problem in one.problems)


_ENDINGS = {"pages": (), "text": (".html", ".txt"), "bench": (".html",)}
"""Of the files of an edition without pages, by its form."""


@frozen
class _Job:
    """A release that may be made."""

    run: BuildRun
    draft: Draft
    folder: Path
    correcting: Correcting | None
    notes: tuple[str, ...]

    @property
    def _name(self) -> str:
        return f"{self.draft.pattern.slug}-{self.draft.pattern.version}"

    @property
    def _papers(self) -> list[str]:
        return list(dict.fromkeys(target.paper for target in self.run.targets if target.paper))

    def rehearse(self) -> Released:
        """Lay everything out, print and write nothing, and tell what there would be."""
        dry_result(self.run, self.draft, self.run.targets)
        names = [*cutting_lists(self.run, self.draft)]
        for target in self.run.targets:
            if target == COMPANIONS:
                continue
            if endings := _ENDINGS[edition_form(self.draft.templates, target.edition)]:
                names += (f"{self._name}-{target.edition}{ending}" for ending in endings)
            else:
                names.append(f"{self._name}-{target.name}.pdf")
        names += (f"{self._name}-terms.txt", f"{self._name}.zip")
        for hand in self.correcting.errata if self.correcting else ():
            name = errata_name(self.draft, hand)
            names += (f"{name}.txt", *(f"{name}-{paper}.pdf" for paper in self._papers))
        return self._released("dry", sorted(names))

    def make(self) -> Released:
        with work_folder(self.run.workshop.out) as work:
            keep_plans(self.run, self.draft, work)
            built = build_editions(self.run, self.draft)
            files = self._files(built)
            put_folder(work, self.folder, files)
        return self._released("made", sorted(files))

    def _files(self, built: Built) -> dict[str, bytes]:
        """Return all files by their names in the release."""
        pattern = self.draft.pattern
        date = date_of(pattern.date)
        files = {**built.files, f"{self._name}-terms.txt": terms_text(self.run, self.draft)}
        if self.correcting:
            files |= errata_files(self.run, self.draft, self.correcting)
        head = head_of(pattern.title, pattern.version)
        upload = archive(self._name, {**files, MANIFEST: manifest_of(head, files)}, date)
        files |= dict(listing_files(self.run, self.draft, built))
        files[f"{self._name}.zip"] = upload
        files[RECORD] = self._record(built, files).to_bytes()
        files[MANIFEST] = manifest_of(head, files)
        return files

    def _record(self, built: Built, files: dict[str, bytes]) -> ReleaseRecord:
        pattern = self.draft.pattern
        used = [f"template/{name}" for name in sorted(self.draft.templates.used)]
        folder = Path(pattern.path).parent
        made_from = {name: self.run.present.digest(name, folder) for name in used}
        return ReleaseRecord(
            slug=pattern.slug,
            title=pattern.title,
            version=pattern.version,
            date=pattern.date.isoformat() if pattern.date else "",
            released=today().isoformat(),
            program=_program(),
            since=self.correcting.last.version if self.correcting else "",
            editions=built.editions,
            made_from={**built.made_from, **made_from},
            files=tuple(filed(name, content) for name, content in sorted(files.items())),
            contents={hand: handed.content for hand, handed in self.draft.hands.items()},
        )

    def _released(self, state: Literal["dry", "made"], files: Sequence[str]) -> Released:
        done = Released(
            self.draft.pattern.slug,
            self.draft.pattern.version,
            self.folder,
            state,
            tuple(files),
            notes=self.notes,
        )
        if self.correcting is None:
            return done
        done = replace(done, since=self.correcting.last.version)
        errata = self.correcting.errata
        if not errata:
            return done
        hand = next(iter(errata))
        return replace(
            done,
            changes=changes_in_brief(errata[hand], read_words(self.draft.templates)),
            errata=errata_text(self.run, self.draft, self.correcting, hand),
        )


def _job(run: BuildRun, draft: Draft, folder: Path, earlier: Sequence[FoundRelease]) -> _Job:
    """Return what there is to do. ReleaseError where the last release's record can't be read."""
    notes = [*_damaged(earlier)]
    if not earlier:
        return _Job(run, draft, folder, None, ())
    last = earlier[-1].record
    if last is None:
        raise ReleaseError(*earlier[-1].problems)
    date = draft.pattern.date
    if date and last.date == date.isoformat():
        told = f"the date is still that of version {last.version}, {last.date}; is it meant to be?"
        notes.append(f"{draft.version_place}: {told}")
    errata = errata_by_hand(last, draft)
    correcting = Correcting(last, errata, date or today(), len(earlier) > 1)
    return _Job(run, draft, folder, correcting, tuple(notes))


def manifest_of(head: str, files: Mapping[str, bytes]) -> bytes:
    """The list of these files, with their sizes and digests."""
    return manifest(head, [filed(name, content) for name, content in files.items()])


def _program() -> str:
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("publisher")
    except PackageNotFoundError:  # run from a folder, never installed
        return ""
