"""Find what earlier builds made and no pattern asks for any more; take it away when told to.

Only files that a record names, and that are still as the program made them, count: whatever else
lies in the folder is the writer's own. Where one record of a pattern can't be read, nothing of that
pattern counts: what the others call old may be what this one made.
"""

from __future__ import annotations

import shutil
from collections.abc import Collection, Iterator, Mapping
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from publisher.catalogue.build.digests import digest_of_file
from publisher.catalogue.build.publish_files import WorkFolder, problem_of
from publisher.catalogue.build.records import BuildRecord, record_path
from publisher.catalogue.build.values import COMPANIONS, FIGURES, FIGURES_FOLDER, Leftover
from publisher.errors import OutputError, Place, Problem
from publisher.frozen import frozen


@frozen
class _Past:
    """A record of which some files are left over. `now`: what it should say; None: nothing."""

    path: Path
    files: tuple[Leftover, ...]
    now: BuildRecord | None


@frozen
class LeftOver:
    """Files that nothing makes any more. `damaged`: records that can't be read, each with what it
    keeps from being known and how to have a new one."""

    files: tuple[Leftover, ...]
    damaged: tuple[Problem, ...]


def left_over(out: Path, slugs: Collection[str], editions: Collection[str]) -> LeftOver:
    """Return what is left of removed patterns, old versions and editions, of all slugs if none is
    named.

    `editions`: those that there are now.
    """
    files: list[Leftover] = []
    damaged: list[Problem] = []
    for slug, records in _records(out, slugs):
        files += (file for past in _pasts(out, slug, records, editions) for file in past.files)
        damaged += (_damaged(slug, path) for path, record in records.items() if record is None)
    return LeftOver(tuple(files), tuple(damaged))


def take_away(
    work: WorkFolder, out: Path, slugs: Collection[str], editions: Collection[str]
) -> tuple[Leftover, ...]:
    """Remove it, and forget it. OutputError where a file can't be removed."""
    taken: list[Leftover] = []
    for slug, records in _records(out, slugs):
        for past in _pasts(out, slug, records, editions):
            for file in past.files:
                _remove(file.path)
                taken.append(file)
            if past.now:
                work.try_to_put(past.path, past.now.to_bytes())
            else:
                _remove(past.path)
            _remove_if_empty(out, past.path.parent)
    return tuple(taken)


_Records = Mapping[Path, BuildRecord | None]


def _records(out: Path, slugs: Collection[str]) -> Iterator[tuple[str, _Records]]:
    """The records of each pattern by their paths; None: one that can't be read."""
    for folder in sorted(out.glob(".cache/made/*")):
        if not slugs or folder.name in slugs:
            paths = sorted(folder.glob("*.json"))
            yield folder.name, {path: BuildRecord.read(path) for path in paths}


def _damaged(slug: str, path: Path) -> Problem:
    message = f"this record is damaged, and nothing of {slug} counts as left over"
    edition, _, paper = path.stem.rpartition("-")
    if path.name == record_path(Path(), slug, FIGURES).name:
        return Problem(Place(str(path)), message, f"publisher figures {slug} writes it anew")
    if not edition:
        return Problem(Place(str(path)), message, f"publisher build {slug} writes it anew")
    again = f"publisher build {slug} --edition {edition} --paper {paper}"
    message = f"{message}, nor has the index a link to what it tells of"
    return Problem(Place(str(path)), message, f"{again} writes it anew; or remove it")


def _pasts(out: Path, slug: str, found: _Records, editions: Collection[str]) -> Iterator[_Past]:
    records = {path: record for path, record in found.items() if record}
    if len(records) < len(found):
        return
    current = records.get(record_path(out, slug, COMPANIONS))
    kept: set[str] = set()
    pasts = []
    for path, record in records.items():
        why = _why_gone(out, path, record, current, editions)
        kept |= set() if why else set(record.files)
        if why or record.old:
            pasts.append((path, record, why))
    for path, record, why in pasts:
        yield _past(out / slug, path, record, why, kept)


def _why_gone(
    out: Path,
    path: Path,
    record: BuildRecord,
    current: BuildRecord | None,
    editions: Collection[str],
) -> str:
    """Return why nobody makes any of a record's files now; "" if somebody does."""
    if record.source and not (out / record.source).is_file():
        return "its pattern is gone"
    edition = path.stem.rpartition("-")[0]
    if edition and edition not in editions:
        return f"there is no edition {edition} any more"
    if path == record_path(out, path.parent.name, FIGURES):
        return ""  # they are of the version that they were asked for at
    if current and current.version != record.version:
        return f"its pattern is at version {current.version}"
    return ""


def _past(folder: Path, path: Path, record: BuildRecord, why: str, kept: Collection[str]) -> _Past:
    ours: Mapping[str, str] = {**record.old, **(record.files if why else {})}
    files = tuple(
        Leftover(folder / name, why or "its pattern has changed")
        for name, digest in ours.items()
        if name not in kept and _is_ours(folder, name, digest)
    )
    return _Past(path, files, None if why else replace(record, old={}))


def _is_ours(folder: Path, name: str, digest: str) -> bool:
    """Is this a file right in the folder, or among its figures, as the program made it?"""
    path = folder / name
    plain = Path(name).name == name or (
        name == f"{FIGURES_FOLDER}/{path.name}" and not path.parent.is_symlink()
    )
    real = plain and not path.is_symlink() and path.is_file()
    return real and digest_of_file(path) == digest


def _remove(path: Path) -> None:
    try:
        path.unlink(missing_ok=True)
    except OSError as error:
        raise OutputError(problem_of(path, error)) from None


def _remove_if_empty(out: Path, records: Path) -> None:
    """Forget a pattern of which there is no record; its folder goes if it is empty."""
    try:
        records.rmdir()
    except OSError:  # not empty, or another's by now
        return
    shutil.rmtree(out / ".cache" / "store" / records.name, ignore_errors=True)
    for folder in (out / records.name / FIGURES_FOLDER, out / records.name):
        with suppress(OSError):
            folder.rmdir()
