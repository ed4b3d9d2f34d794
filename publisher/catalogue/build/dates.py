"""Choose the date that a book carries, so that the same sources give the same bytes any day."""

from __future__ import annotations

import datetime
import os

from publisher.errors import Place, Problem, UsageError

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
