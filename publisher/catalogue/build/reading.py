"""Read a pattern with the digests of its files, and choose the date that its books carry."""

from __future__ import annotations

import datetime
import os
from pathlib import Path
from typing import TYPE_CHECKING

from publisher.catalogue.build.digests import Present
from publisher.catalogue.build.pipeline import Pipeline
from publisher.errors import Place, Problem, UsageError
from publisher.file_names import way_to

if TYPE_CHECKING:
    from publisher.model.pattern import Pattern


def read_source(pipeline: Pipeline, present: Present, path: Path) -> tuple[Pattern, dict[str, str]]:
    """The pattern, and its inputs' digests by name.

    A digest is always taken before its file is read, so that a file saved in between counts as
    changed the next time, never as already used. SourceError as `read_pattern` has it.
    """
    names = {f"source/{path.name}", "source/house.toml"}
    while True:
        digests = {name: present.digest(name, path.parent) for name in sorted(names)}
        pattern = pipeline.read_pattern(path)
        found = {_name(file, path.parent) for file in pattern.files}
        if found <= names:
            return pattern, digests
        names |= found


def _name(file: str, folder: Path) -> str:
    return f"source/{way_to(file, folder)}"


_NO_DATE = datetime.date(1980, 1, 1)  # the earliest that every archive format can hold


def fixed_epoch() -> str:
    """SOURCE_DATE_EPOCH as it is set, or ""; UsageError where it is not a number of seconds."""
    text = os.environ.get("SOURCE_DATE_EPOCH", "")
    if text and not (text.isascii() and text.isdigit() and len(text) < 12):
        place = Place("SOURCE_DATE_EPOCH")
        raise UsageError(Problem(place, f"{text!r} is no date", "give seconds since 1970"))
    return text


def date_of(written: datetime.date | None) -> datetime.datetime:
    """The date of a book: SOURCE_DATE_EPOCH, else the pattern's own, else a fixed one (UTC)."""
    epoch = fixed_epoch()
    if epoch:
        return datetime.datetime.fromtimestamp(int(epoch), datetime.UTC)
    date = written or _NO_DATE
    return datetime.datetime(date.year, date.month, date.day, tzinfo=datetime.UTC)


def today() -> datetime.date:
    """The day on which something is done: SOURCE_DATE_EPOCH, else today's."""
    epoch = fixed_epoch()
    return date_of(None).date() if epoch else datetime.date.today()
