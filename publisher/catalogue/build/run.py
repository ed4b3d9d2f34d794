"""Find what of a catalogue is out of date, and have it made: the state of one run."""

from __future__ import annotations

from collections.abc import Generator, Mapping, Sequence
from contextlib import closing, suppress
from dataclasses import field, replace
from functools import cached_property
from pathlib import Path
from typing import TYPE_CHECKING

from publisher.catalogue.build.digests import (
    DATE,
    FONTS,
    LIBRARY,
    PROGRAM,
    STUDENTS,
    Present,
    digest_of,
    digest_of_file,
    drawing_digest,
)
from publisher.catalogue.build.dispatch import carry_out, choose_executor
from publisher.catalogue.build.entries import entry_path
from publisher.catalogue.build.job import Toolkit
from publisher.catalogue.build.leftovers import LeftOver, left_over, take_away
from publisher.catalogue.build.libraries import libraries_of
from publisher.catalogue.build.packs import (
    pack_path,
    plan_slot,
    read_pack,
    read_shared,
    record_shared,
)
from publisher.catalogue.build.publish_files import WorkFolder, work_folder
from publisher.catalogue.build.reading import date_of, read_source
from publisher.catalogue.build.records import BuildRecord, changes, damage, record_path
from publisher.catalogue.build.split import number_of_portions
from publisher.catalogue.build.values import (
    FIGURES,
    BuildJob,
    FigureOrder,
    Made,
    Outcome,
    PatternTask,
    Result,
    Target,
)
from publisher.catalogue.workshop import Workshop
from publisher.errors import OutputError, TemplateError
from publisher.file_names import way_to
from publisher.frozen import frozen

if TYPE_CHECKING:
    from publisher.model.pattern import Pattern

_ASKED_FOR = "figures are drawn whenever they are asked for"


@frozen(slots=False)
class BuildRun:
    """One run over a workshop, with what was found of each pattern on the way."""

    workshop: Workshop
    targets: tuple[Target, ...]
    toolkit: Toolkit
    present: Present
    figures: FigureOrder = FigureOrder()
    _sources: dict[str, Mapping[str, str]] = field(default_factory=dict)
    _records: dict[tuple[str, Target], BuildRecord] = field(default_factory=dict)
    _hands: dict[Target, str] = field(default_factory=dict)
    _versions: dict[str, str] = field(default_factory=dict)

    def tasks(self, paths: Sequence[Path]) -> tuple[PatternTask, ...]:
        """Return what there is to do, and why."""
        return tuple(
            PatternTask(path, {target: self._reasons(path, target) for target in self.targets})
            for path in paths
        )

    def outcomes(
        self, tasks: Sequence[PatternTask], jobs: int, cluster: str | None = None
    ) -> Generator[Outcome, None, None]:
        """Do it. OutputError if nothing can be written at all."""
        stale = [task for task in tasks if task.stale]
        yield from (Outcome(task.slug, task.path, task.reasons) for task in tasks if not task.stale)
        if not stale:
            return
        toolkit = self.stocked
        portions = 1 if cluster else max(1, jobs // len(stale))
        pending = sum(number_of_portions(task.stale, portions) for task in stale)
        with (
            work_folder(self.workshop.out) as work,
            closing(choose_executor(toolkit, pending, jobs, cluster)) as executor,
        ):
            yield from carry_out(
                executor,
                stale,
                self._prepare,
                lambda task, result: self._finish(work, task, result),
                portions,
            )

    @cached_property
    def stocked(self) -> Toolkit:
        """The toolkit with what earlier runs drew for all targets."""
        shared = read_shared(self.workshop.out)
        return replace(self.toolkit, made_by=drawing_digest(), shared=shared)

    def leftovers(self, slugs: Sequence[str] = (), *, prune: bool = False) -> LeftOver:
        """Return what nothing makes any more, of these patterns or of all; taken away if told
        to."""
        out, editions = self.workshop.out, tuple(self.toolkit.templates().names("editions"))
        found = left_over(out, slugs, editions)
        if not (prune and found.files):
            return found
        with work_folder(out) as work:
            return replace(found, files=take_away(work, out, slugs, editions))

    def _reasons(self, path: Path, target: Target) -> tuple[str, ...]:
        out, slug = self.workshop.out, path.stem
        record = BuildRecord.read(record_path(out, slug, target))
        if record is None:
            return ("it has not been made yet",)
        self._records[slug, target] = record
        if target == FIGURES:
            return (_ASKED_FOR,)
        changed = changes(record, lambda name: self.present.digest(name, path.parent))
        lost = record.entry and digest_of_file(entry_path(out, slug)) != record.entry
        told = ("its entry in the index is not there",) if lost else ()
        return (*changed, *damage(record, out / slug), *told)

    def _prepare(self, task: PatternTask) -> BuildJob:
        pattern, sources = read_source(self.toolkit.pipeline, self.present, task.path)
        self.toolkit.pipeline.refuse_unknown_terms(pattern, self.toolkit.templates())
        self._sources[task.slug], self._versions[task.slug] = sources, pattern.version
        before = {target: self._layout_before(task, target) for target in task.stale}
        known = {target: layout for target, layout in before.items() if layout}
        date, students = date_of(pattern.date), self.present.students
        lacking = self.toolkit.pipeline.find_unprintable(pattern)
        packs = self._packs(task)
        job = BuildJob(pattern, task.stale, date, packs, known, students, lacking)
        return replace(job, figures=self.figures)

    def dry_job(
        self,
        pattern: Pattern,
        packs: Mapping[str, bytes] | None = None,
        targets: Sequence[Target] | None = None,
    ) -> BuildJob:
        """Lay targets of a pattern out, all of them if none is named, and print none.

        `packs`: what is known of it, the plans above all.
        """
        targets = self.targets if targets is None else tuple(targets)
        lacking = self.toolkit.pipeline.find_unprintable(pattern)
        date = date_of(pattern.date)
        return BuildJob(pattern, targets, date, packs or {}, {}, unprintable=lacking, dry=True)

    def _packs(self, task: PatternTask) -> dict[str, bytes]:
        """The packs of an earlier run: of the targets, and of the plans for their hands."""
        hands = {"right", *map(self._hand, task.stale)}
        slots = [*(target.name for target in task.stale), *map(plan_slot, sorted(hands))]
        found = {slot: read_pack(pack_path(self.workshop.out, task.slug, slot)) for slot in slots}
        return {slot: packed for slot, packed in found.items() if packed}

    def _hand(self, target: Target) -> str:
        if target not in self._hands:
            self._hands[target] = self._hand_of(target)
        return self._hands[target]

    def _hand_of(self, target: Target) -> str:
        with suppress(TemplateError):  # told by whoever makes the edition
            if target.edition:
                return self.toolkit.pipeline.edition_hand(self.toolkit.templates(), target.edition)
        return "right"

    def _layout_before(self, task: PatternTask, target: Target) -> str | None:
        """The digest of the last layout, if the same layout would print as what is there."""
        record = self._records.get((task.slug, target))
        if record is None or damage(record, self.workshop.out / task.slug):
            return None
        tools = [PROGRAM, FONTS, *(name for name in record.inputs if name.startswith(LIBRARY))]
        same = all(
            record.inputs.get(name) == self.present.digest(name, task.path.parent) for name in tools
        )
        return record.layout if same else None

    def _finish(self, work: WorkFolder, task: PatternTask, result: Result) -> Outcome:
        outcome = Outcome(
            task.slug,
            task.path,
            task.reasons,
            problems=result.problems,
            advice=result.advice,
            seconds=result.seconds,
            trace=result.trace,
        )
        for slot, packed in result.packs.items():
            work.try_to_put(pack_path(self.workshop.out, task.slug, slot), packed)
        record_shared(work, self.workshop.out, result.shared)
        for made in result.made:
            outcome = replace(outcome, figures=outcome.figures + made.figures)
            try:
                new = self._put(work, task, result, made)
            except OutputError as error:
                outcome = replace(outcome, problems=outcome.problems + error.problems)
            else:
                outcome = replace(outcome, made=outcome.made + new)
        return outcome

    def _put(
        self, work: WorkFolder, task: PatternTask, result: Result, made: Made
    ) -> tuple[Path, ...]:
        """Put a target's files in place, then the record of them."""
        out, before = self.workshop.out, self._records.get((task.slug, made.target))
        if before and made.files is None:
            new: tuple[Path, ...] = ()
            files = before.files
        else:
            found = made.files or {}
            paths = {out / task.slug / name: content for name, content in found.items()}
            new = tuple(path for path, content in paths.items() if work.put(path, content))
            files = {name: digest_of(content) for name, content in found.items()}
            if before and made.target == FIGURES:
                from publisher.catalogue.build.draw_figures import still_shown

                files = {**still_shown(made.figures, before.files, files), **files}
        earlier = {**before.old, **before.files} if before else {}
        record = BuildRecord(
            self._inputs(task, result, made),
            made.digest,
            files,
            old={name: digest for name, digest in earlier.items() if name not in files},
            source=way_to(task.path, out),
            version=self._versions[task.slug],
            entry=digest_of(made.entry) if made.entry else "",
        )
        if made.pack:
            work.try_to_put(pack_path(out, task.slug, made.target.name), made.pack)
        if made.entry:
            work.try_to_put(entry_path(out, task.slug), made.entry)
        work.try_to_put(record_path(out, task.slug, made.target), record.to_bytes())
        return new

    def _inputs(self, task: PatternTask, result: Result, made: Made) -> dict[str, str]:
        """The digests of all that a target was made from, as they were before it was read."""
        shared = [PROGRAM, FONTS, *(f"template/{name}" for name in made.templates)]
        shared += (f"knot/{name}" for name in result.knots)
        sources = self._sources[task.slug]
        libraries = libraries_of(made, sources, self.toolkit.files, large=result.large)
        shared += (f"{LIBRARY}{name}" for name in libraries)
        if made.target.edition:
            shared.append(DATE)
            if self.toolkit.pipeline.counts_students(self.toolkit.templates(), made.target.edition):
                shared.append(STUDENTS)
        digests = {name: self.present.digest(name, task.path.parent) for name in shared}
        return {**sources, **digests}
