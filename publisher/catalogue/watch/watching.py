"""Rebuild what changes, as it changes: wait for a file to be saved, build, show what came of it."""

from __future__ import annotations

import threading
from collections.abc import Iterator, Sequence
from contextlib import closing
from dataclasses import field, replace
from pathlib import Path
from typing import Protocol

from publisher.catalogue.build.build import begin, conclude
from publisher.catalogue.build.job import unforeseen
from publisher.catalogue.build.pipeline import Pipeline
from publisher.catalogue.build.records import BuildRecord, record_path
from publisher.catalogue.build.run import BuildRun
from publisher.catalogue.build.values import Aftermath, Outcome, PatternTask
from publisher.catalogue.watch.board import Board, BoardEntry, ShownBook
from publisher.catalogue.workshop import Workshop
from publisher.errors import Problem, PublisherError, UsageError
from publisher.frozen import frozen

_TOGETHER_MS = 100
"""What is saved in so short a time is taken as one change."""
_STEP_MS = 20
_ATTEND_MS = 200
"""How soon it is noticed that the watch is to end."""
_LOOK_AGAIN_MS = 1000
"""How often is looked whether a folder has come or gone."""


class WatchReporter(Protocol):
    """Says what becomes of each pattern."""

    def outcome(self, outcome: Outcome) -> None: ...

    def problems(self, problems: Sequence[Problem]) -> None: ...

    def aftermath(self, after: Aftermath) -> None: ...


@frozen(slots=False)
class Watch:
    """A workshop that is watched, and a board that shows how it stands."""

    workshop: Workshop
    names: tuple[str, ...]
    editions: tuple[str, ...]
    papers: tuple[str, ...]
    board: Board
    teller: WatchReporter
    pipeline: Pipeline = field(default_factory=Pipeline)
    _ends: list[None] = field(default_factory=list)
    _saved: threading.Event = field(default_factory=threading.Event)
    _stopped: threading.Event = field(default_factory=threading.Event)

    def run(self) -> None:
        """Build, and build again whenever something was saved, until `stop` is called."""
        watcher = threading.Thread(target=self._look_out, daemon=True)
        watcher.start()
        try:
            self._build(first=True)
            while not self._is_over():
                if self._saved.wait(_ATTEND_MS / 1000) and not self._is_over():
                    self._build()
        finally:
            self.stop()
            watcher.join(timeout=2 * _LOOK_AGAIN_MS / 1000)

    def end_soon(self) -> None:
        """Stop after the pattern that is in work. A signal's handler may call this."""
        self._ends.append(None)

    def _is_over(self) -> bool:
        return bool(self._ends) or self._stopped.is_set()

    def stop(self) -> None:
        self._stopped.set()
        self._saved.set()
        self.board.show(0, closed=True)

    def _look_out(self) -> None:
        """Notice what is saved in the folders there are, also in one that comes later.

        Where the system tells of no changes, as it has no watches left, the files are looked at
        again and again.
        """
        from watchfiles import watch

        seen: tuple[Path, ...] | None = None
        polling = False
        while not self._stopped.is_set():
            folders = tuple(self._folders())
            if seen is not None and folders != seen:
                self._saved.set()
            seen = folders
            if not folders:
                self._stopped.wait(_LOOK_AGAIN_MS / 1000)
                continue
            looking = watch(
                *folders,
                debounce=_TOGETHER_MS,
                step=_STEP_MS,
                stop_event=self._stopped,
                rust_timeout=_LOOK_AGAIN_MS,
                yield_on_timeout=True,
                raise_interrupt=False,
                force_polling=polling or None,
            )
            try:
                with closing(looking) as changes:
                    for change in changes:
                        if change:
                            self._saved.set()
                        if tuple(self._folders()) != folders:
                            break
            except (OSError, RuntimeError):
                polling = True
                self._stopped.wait(_LOOK_AGAIN_MS / 1000)

    def _folders(self) -> Iterator[Path]:
        for folder in (self.workshop.patterns, self.workshop.templates):
            if folder and folder.is_dir():
                yield folder

    def _build(self, *, first: bool = False) -> None:
        """One round over all patterns, broken off where something was saved meanwhile.

        UsageError in the first: the call itself was wrong.
        """
        self._saved.clear()
        try:
            run = begin(self.workshop, self.editions, self.papers, self.pipeline)
            tasks = self._in_turn(run.tasks(self.workshop.find(self.names)))
            self._make(run, tasks)
        except PublisherError as error:
            if first and isinstance(error, UsageError):
                raise
            self._fail(error.problems)
        except Exception as error:
            self._fail((unforeseen("publisher", error)[0],))

    def _fail(self, problems: Sequence[Problem]) -> None:
        self.board.show(0, problems=problems)
        self.teller.problems(problems)

    def _in_turn(self, tasks: Sequence[PatternTask]) -> list[PatternTask]:
        """Put the pattern that is looked at just now first."""
        return sorted(tasks, key=lambda task: task.slug != self.board.looked_at)

    def _make(self, run: BuildRun, tasks: Sequence[PatternTask]) -> None:
        left = sum(1 for task in tasks if task.stale)
        entries = {task.slug: self._entry(run, task.slug) for task in tasks}
        self.board.show(left, entries)
        with closing(run.outcomes(tasks, jobs=1)) as outcomes:
            for outcome in outcomes:
                entries[outcome.slug] = self._entry(run, outcome.slug, outcome.problems)
                left -= not outcome.up_to_date
                self.board.show(left, entries)
                if not outcome.up_to_date:
                    self.teller.outcome(outcome)
                if self._saved.is_set() or self._is_over():
                    return
        after = conclude(run, tasks, whole=not self.names)
        self.board.show(0, entries, after.index.problems if after.index else ())
        self.teller.aftermath(replace(after, leftovers=(), damaged=()))

    def _entry(self, run: BuildRun, slug: str, problems: Sequence[Problem] = ()) -> BoardEntry:
        """Return how a pattern stands: what is there of it, and what is wrong with it."""
        before = self.board.state.entries.get(slug, BoardEntry(slug))
        known = {(book.file, book.digest): book for book in before.books}
        books = []
        for target in run.targets:
            record = BuildRecord.read(record_path(self.workshop.out, slug, target))
            for name, digest in record.files.items() if record else ():
                if name.endswith(".pdf"):
                    file = f"{slug}/{name}"
                    shown = known.get((file, digest)) or self._shown(target.name, file, digest)
                    books.append(shown)
        return BoardEntry(slug, tuple(book for book in books if book), tuple(problems))

    def _shown(self, name: str, file: str, digest: str) -> ShownBook | None:
        try:
            pages = self.pipeline.page_sizes((self.workshop.out / file).read_bytes())
        except Exception:  # gone or changed meanwhile: the next round makes it anew
            return None
        return ShownBook(name, file, digest, tuple(pages))
