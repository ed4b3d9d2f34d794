"""The record of a release: what it was made from, what is in it, and what it told makers.

It is read with care: what is not as it was written is told, never guessed at.
"""

from __future__ import annotations

import datetime
import json
import re
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from typing import Any

from publisher.errata.compare.content import ReleaseContent
from publisher.errata.compare.keeping import from_plain, to_plain
from publisher.errors import MORE_OPEN, Place, Problem, SourceError, is_at_limit
from publisher.frozen import frozen

RECORD = "release.json"
MANIFEST = "MANIFEST"
_FORMAT = 3
"""Of the records that are written; 1 had the yarns' prices in what makers are told, and 2 did not
say where a picked-up yarn could be taken for another."""


@frozen
class Filed:
    """A file of a release: its name in the folder, its bytes counted and digested."""

    name: str
    bytes: int
    sha256: str


@frozen
class ReleasedEdition:
    """An edition in a release, with the digest of its layout."""

    edition: str
    paper: str
    layout: str


@frozen
class ReleaseRecord:
    """`date`: the pattern's, "" where it has none; `released`: the day it was made on (both ISO).

    `since`: the version that the errata are against, "" for a first release. `made_from`: the
    inputs' digests by name. `contents`: what makers are told, by the hand that it is for.
    """

    slug: str
    title: str
    version: str
    date: str
    released: str
    program: str
    since: str
    editions: tuple[ReleasedEdition, ...]
    made_from: Mapping[str, str]
    files: tuple[Filed, ...]
    contents: Mapping[str, ReleaseContent]

    @property
    def number(self) -> Number:
        return number_of(self.version)

    @property
    def day(self) -> datetime.date:
        """Of the version, as its books have it; else when it was released."""
        return datetime.date.fromisoformat(self.date or self.released)

    def to_bytes(self) -> bytes:
        """Return the record as JSON. Lines are short enough to be looked at, and to be kept under
        version control."""
        table = to_plain(self)
        contents = table.pop("contents")
        head = {"format": _FORMAT, **table, "contents_sha256": _digest(contents)}
        text = json.dumps({**head, "contents": contents}, ensure_ascii=False, indent=1)
        return (text + "\n").encode()


def _digest(plain: Any) -> str:
    """SHA-256 of what is told, as JSON with its keys in order and no blanks."""
    text = json.dumps(plain, ensure_ascii=False, sort_keys=True, separators=(",", ":"))
    return sha256(text.encode()).hexdigest()


def filed(name: str, content: bytes) -> Filed:
    """A file with this name and content, as a record has it."""
    return Filed(name, len(content), sha256(content).hexdigest())


def head_of(title: str, version: str) -> str:
    """Return what a manifest is headed with."""
    return f"{title}, version {version}"


def manifest(head: str, files: Iterable[Filed]) -> bytes:
    """Sizes and SHA-256 digests, in the form that `sha256sum -c MANIFEST` checks."""
    lines = [f"# {head}", f"# check with: sha256sum -c {MANIFEST}"]
    for file in sorted(files, key=lambda file: file.name):
        lines += [f"# {file.bytes} bytes", f"{file.sha256}  {file.name}"]
    return ("\n".join(lines) + "\n").encode()


@frozen
class FoundRelease:
    """An earlier release as it is found: its record, or what is wrong with that; and what is
    wrong with its files."""

    folder: Path
    number: Number
    record: ReleaseRecord | None
    problems: tuple[Problem, ...]


def earlier_releases(folder: Path, *, whole: bool = True) -> tuple[FoundRelease, ...]:
    """Return what is in a pattern's folder of releases, by version. What is not named like a
    version is somebody's own. `whole`: look at all files, not at the records alone."""
    try:
        paths = list(folder.iterdir())
    except (FileNotFoundError, NotADirectoryError):
        return ()
    except OSError as error:
        message = f"this folder can't be read ({error.strerror})"
        hint = MORE_OPEN if is_at_limit(error) else "see to its permissions"
        problem = Problem(Place(str(folder)), message, hint)
        raise SourceError(problem) from None
    found = []
    for path in paths:
        with suppress(ValueError):
            found.append(_earlier(path, number_of(path.name), whole))
    return tuple(sorted(found, key=lambda one: (one.number, one.folder.name)))


_HINT = "take it back from a copy of yours, or move it out of the folder of releases"


def _earlier(folder: Path, number: Number, whole: bool) -> FoundRelease:
    path = folder / RECORD
    try:
        data = json.loads(path.read_bytes())
        if not isinstance(data, dict):
            raise ValueError("no record")
        if type(data.get("format")) is int and data["format"] > _FORMAT:
            message = "this release was made by a newer program than this one"
            problem = Problem(Place(str(path)), message, "use that program")
            return FoundRelease(folder, number, None, (problem,))
        record = _record(data, folder.name)
        written = filed(RECORD, path.read_bytes())
    except FileNotFoundError:
        problem = Problem(Place(str(folder)), f"this release has no {RECORD}", _HINT)
        return FoundRelease(folder, number, None, (problem,))
    except (OSError, ArithmeticError, LookupError, RecursionError, TypeError, ValueError) as error:
        if is_at_limit(error):  # it may well be as it was written
            raise
        problem = Problem(Place(str(path)), "this record is not as it was written", _HINT)
        return FoundRelease(folder, number, None, (problem,))
    damage = tuple(_damage(folder, record, written)) if whole else ()
    return FoundRelease(folder, number, record, damage)


def _record(data: dict[str, Any], version: str) -> ReleaseRecord:
    """ValueError or another where anything is not as it was written."""
    kind = data.pop("format")
    known = type(kind) is int and 1 <= kind <= _FORMAT
    if not known or _digest(data["contents"]) != data.pop("contents_sha256"):
        raise ValueError("changed")
    if kind == 1:
        _take_prices_out(data["contents"])
    record = from_plain(ReleaseRecord, data)
    if record.version != version or not record.released or "right" not in record.contents:
        raise ValueError("another release's")
    for day in filter(None, (record.date, record.released)):
        datetime.date.fromisoformat(day)
    return record


def _take_prices_out(contents: dict[str, Any]) -> None:
    """Read a record of format 1 as one of today, in which no price is content."""
    for content in contents.values():
        del content["words"]["currency"]
        for line in (*content["yarns"], *content["shopping"]):
            del line["price"]


def _damage(folder: Path, record: ReleaseRecord, written: Filed) -> Iterator[Problem]:
    """Files that are gone or changed, by the record; the list of them, by what is in it."""
    whole = manifest(head_of(record.title, record.version), (*record.files, written))
    for file in (*record.files, filed(MANIFEST, whole)):
        path = folder / file.name
        try:
            same = filed(file.name, path.read_bytes()) == file
        except OSError as error:
            if is_at_limit(error):
                raise
            yield Problem(Place(str(path)), "this file of a release is not there", _HINT)
            continue
        if not same:
            yield Problem(Place(str(path)), "this file is not as it was released", _HINT)


Number = tuple[int, int, int]

_VERSION = re.compile(r"(\d+)\.(\d+)(?:\.(\d+))?")


def number_of(version: str) -> Number:
    """ValueError where this is no version."""
    match = _VERSION.fullmatch(version)
    if not match or not version.isascii():
        raise ValueError(f"{version!r} is no version")
    major, minor, patch = match.groups(default="0")
    return int(major), int(minor), int(patch)


def after(version: str) -> tuple[str, str]:
    """The next versions, for a small change and for a larger one."""
    major, minor, patch = number_of(version)
    return f"{major}.{minor}.{patch + 1}", f"{major}.{minor + 1}"
