"""Bring the catalogue's index up to date: a PDF and a web page, from entries that were kept."""

from __future__ import annotations

import datetime
import time
from collections.abc import Callable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING
from urllib.parse import quote

from publisher.catalogue.build.digests import (
    DATE,
    FONTS,
    LIBRARY,
    MISSING,
    PAPER,
    PROGRAM,
    digest_of,
    digest_of_book,
)
from publisher.catalogue.build.entries import read_entry
from publisher.catalogue.build.job import unforeseen
from publisher.catalogue.build.libraries import page_libraries
from publisher.catalogue.build.publish_files import work_folder
from publisher.catalogue.build.reading import date_of
from publisher.catalogue.build.records import BuildRecord, changes, damage, record_path
from publisher.catalogue.build.values import COMPANIONS, CUTTING_LISTS, Outcome, Target
from publisher.errors import FontError, PublisherError
from publisher.frozen import frozen
from publisher.templates import Templates

if TYPE_CHECKING:
    from publisher.catalogue.build.pipeline import Pipeline
    from publisher.catalogue.build.run import BuildRun
    from publisher.manuscript.index import IndexEntry

_ENTRY = "entry/"


@frozen
class _Listed:
    """A pattern of the index: its entry's digest, and its books as edition, paper and address."""

    slug: str
    entry: str
    books: tuple[tuple[str, str, str], ...]

    @property
    def digest(self) -> str:
        return digest_of(self.entry.encode(), repr(self.books).encode())


def build_index(run: BuildRun, slugs: Sequence[str]) -> Outcome:
    """Make `index.pdf` and `index.html` of these patterns, if what they say has changed."""
    started = time.perf_counter()
    out, target = run.workshop.out, Target("index", _paper(run))
    place = out / "index.pdf"
    listed = [found for slug in slugs if (found := _listed(out, slug))]
    before = BuildRecord.read(_record_path(out))
    reasons = _reasons(run, before, listed) if listed else ()
    made: tuple[Path, ...] = ()
    left_out: tuple[str, ...] = ()
    if reasons:
        try:
            made, left_out = _make(run, before, listed)
        except PublisherError as error:
            return Outcome("index", place, {target: reasons}, problems=error.problems)
        except Exception as error:
            problem, trace = unforeseen(str(place), error)
            return Outcome("index", place, {target: reasons}, problems=(problem,), trace=trace)
    seconds = time.perf_counter() - started
    return Outcome("index", place, {target: reasons}, made, seconds=seconds, left_out=left_out)


def _paper(run: BuildRun) -> str:
    return next((target.paper for target in run.targets if target.paper), "a4")


def _record_path(out: Path) -> Path:
    return out / ".cache" / "index.json"


def _listed(out: Path, slug: str) -> _Listed | None:
    """Return what the records know of a pattern; None where it was never made."""
    companions = record_path(out, slug, COMPANIONS)
    current = BuildRecord.read(companions)
    if current is None or not current.entry:
        return None
    books: list[tuple[str, str, str]] = []
    for path in sorted(companions.parent.glob("*-*.json")):
        record = BuildRecord.read(path)
        if record and record.version == current.version:
            edition, _, paper = path.stem.rpartition("-")
            names = (name for name in record.files if name not in CUTTING_LISTS.values())
            books += ((edition, paper, f"{slug}/{name}") for name in names)
    return _Listed(slug, current.entry, tuple(books))


def _reasons(
    run: BuildRun, before: BuildRecord | None, listed: Sequence[_Listed]
) -> tuple[str, ...]:
    if before is None:
        return ("it has not been made yet",)
    now = _inputs(run, listed, ())
    folder = run.workshop.patterns

    def digest(name: str) -> str:
        if name.startswith(_ENTRY):
            return now.get(name, MISSING)
        return now[name] if name in now else run.present.digest(name, folder)

    new = tuple(f"entry {name[len(_ENTRY) :]} is new" for name in now if name not in before.inputs)
    return (*changes(before, digest), *new, *damage(before, run.workshop.out))


def _inputs(run: BuildRun, listed: Sequence[_Listed], templates: Sequence[str]) -> dict[str, str]:
    """Return all that the index is made from, by name."""
    names = [PROGRAM, FONTS, DATE, *(f"template/{name}" for name in templates)]
    names += (f"{LIBRARY}{name}" for name in sorted(page_libraries(templates, run.toolkit.files)))
    shared = {name: run.present.digest(name, run.workshop.patterns) for name in names}
    return {**shared, PAPER: _paper(run), **{f"{_ENTRY}{one.slug}": one.digest for one in listed}}


def _make(
    run: BuildRun, before: BuildRecord | None, listed: Sequence[_Listed]
) -> tuple[tuple[Path, ...], tuple[str, ...]]:
    """The files that are new, and the patterns that were left out."""
    out, pipeline, templates = run.workshop.out, run.toolkit.pipeline, run.toolkit.templates()
    found = {one: read_entry(out, one.slug, one.entry) for one in listed}
    entries = [entry for entry in found.values() if entry]
    listed = [one for one in listed if found[one]]  # the index is made anew once another is there
    words = pipeline.index_words(templates)
    books = {one.slug: tuple(_named(one, words, templates)) for one in listed}
    kept = before.layout if before and not damage(before, out) else MISSING
    shown, digest, contents = _pages(entries, books, pipeline, templates, _paper(run), kept)
    with work_folder(out) as work:
        made: tuple[Path, ...] = ()
        if before and digest == kept:
            files = before.files
        else:
            made = tuple(
                out / name for name, text in contents.items() if work.put(out / name, text)
            )
            files = {name: digest_of(content) for name, content in contents.items()}
        record = BuildRecord(_inputs(run, listed, sorted(templates.used)), digest, files)
        work.try_to_put(_record_path(out), record.to_bytes())
    return made, tuple(entry.slug for entry in entries if entry not in shown)


_Contents = dict[str, bytes]


def _pages(
    entries: Sequence[IndexEntry],
    books: Mapping[str, Sequence[tuple[str, str]]],
    pipeline: Pipeline,
    templates: Templates,
    paper: str,
    kept: str,
) -> tuple[Sequence[IndexEntry], str, _Contents]:
    """The entries, all but those with characters that the fonts lack; the digest of the layout;
    and the files by name, none where the layout is the one `kept`."""

    def of(some: Sequence[IndexEntry]) -> tuple[str, _Contents]:
        dates = [datetime.date.fromisoformat(entry.date) for entry in some if entry.date]
        date = date_of(max(dates, default=None))
        manuscript = pipeline.write_index(some, books, templates, paper, date)
        page = pipeline.lay_out_index(manuscript, templates).encode()
        book = pipeline.lay_out(manuscript, templates)
        digest = digest_of(page, digest_of_book(book).encode())
        if digest == kept:
            return digest, {}
        return digest, {"index.html": page, "index.pdf": pipeline.print_book(book)}

    try:
        return entries, *of(entries)
    except FontError:
        printable = tuple(_printable(entries, of))
        if len(printable) == len(entries):
            raise
        return printable, *of(printable)


def _printable(
    entries: Sequence[IndexEntry], make: Callable[[Sequence[IndexEntry]], object]
) -> Iterator[IndexEntry]:
    """The entries that can be printed, found by halves."""
    try:
        make(entries)
    except FontError:
        half = len(entries) // 2
        for part in (entries[:half], entries[half:]) if half else ():
            yield from _printable(part, make)
    else:
        yield from entries


def _named(
    listed: _Listed, words: Mapping[str, str], templates: Templates
) -> Iterator[tuple[str, str]]:
    """A pattern's books as they are called, and where they lie. One of a lost edition is none."""
    known = set(templates.names("editions"))
    for edition, paper, address in listed.books:
        if edition in known:
            title = str(templates.table(f"editions/{edition}.toml").get("title", edition))
            form = words.get(Path(address).suffix.removeprefix(".")) or words.get(f"paper_{paper}")
            yield words["file"].format(edition=title, paper=form or paper), quote(address)
