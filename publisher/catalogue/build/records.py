"""Remember what a target was made from, and say what has changed since."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import asdict, field
from pathlib import Path
from typing import Any, Self

from publisher.catalogue.build.digests import (
    DATE,
    FONTS,
    MISSING,
    PAPER,
    PROGRAM,
    STUDENTS,
    digest_of_file,
    with_digest,
    without_digest,
)
from publisher.catalogue.build.values import Target
from publisher.errors import is_at_limit
from publisher.frozen import frozen

_FORMAT = 2


@frozen
class BuildRecord:
    """The inputs' digests by name, the layout's digest, and the digests of the files made.

    `old`: files made before under other names. `source`: the pattern's file, as seen from the
    output folder, so that a workshop can be moved. `version`: the pattern's. `entry`: the digest
    of what the index says of it.
    """

    inputs: Mapping[str, str]
    layout: str
    files: Mapping[str, str]
    old: Mapping[str, str] = field(default_factory=dict)
    source: str = ""
    version: str = ""
    entry: str = ""

    def to_bytes(self) -> bytes:
        """JSON below a line with its digest: a letter that is damaged could take books away."""
        return with_digest(json.dumps({"format": _FORMAT, **asdict(self)}, indent=1).encode())

    @classmethod
    def read(cls, path: Path) -> Self | None:
        """The record in a file; None where there is none, or it is not as it was written."""
        try:
            data = json.loads(without_digest(path.read_bytes()) or b"")
            if data.pop("format") != _FORMAT:
                return None
            record = cls(**data)
        except OSError as error:
            if is_at_limit(error):  # it may well be as it was written
                raise
            return None
        except (ValueError, TypeError, KeyError, AttributeError, RecursionError):
            return None
        return record if record._is_sound() else None

    def _is_sound(self) -> bool:
        tables: tuple[Any, ...] = (self.inputs, self.files, self.old)
        texts = (self.layout, self.source, self.version, self.entry)
        return all(isinstance(text, str) for text in texts) and all(
            isinstance(table, dict) and all(isinstance(text, str) for text in table.values())
            for table in tables
        )


def record_path(out: Path, slug: str, target: Target) -> Path:
    """Return where the record of a pattern's target is kept."""
    return out / ".cache" / "made" / slug / f"{target.name}.json"


def damage(record: BuildRecord, folder: Path) -> tuple[str, ...]:
    """Return which of the files made are not there as they were made."""
    found = {name: digest_of_file(folder / name) for name in record.files}
    return tuple(
        f"{name} {'is not there' if found[name] == MISSING else 'is not as it was made'}"
        for name, digest in record.files.items()
        if found[name] != digest
    )


def changes(record: BuildRecord, now: Callable[[str], str]) -> tuple[str, ...]:
    """Return what is not as it was when the target was made, in words."""
    differing = {name: now(name) for name, digest in record.inputs.items() if now(name) != digest}
    return tuple(_in_words(name, record.inputs[name], digest) for name, digest in differing.items())


_NAMED = {
    PROGRAM: "the program has changed",
    FONTS: "the fonts have changed",
    DATE: "SOURCE_DATE_EPOCH has changed",
    PAPER: "the paper has changed",
    STUDENTS: "the number of students has changed",
}


def _in_words(name: str, before: str, now: str) -> str:
    if name in _NAMED:
        return _NAMED[name]
    kind, _, rest = name.partition("/")
    what = rest if kind == "source" else f"{kind} {rest}"
    how = "is gone" if now == MISSING else "is new" if before == MISSING else "has changed"
    return f"{what} {how}"
