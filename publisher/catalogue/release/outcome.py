"""What a release is asked for, and what became of it, as values."""

from __future__ import annotations

from pathlib import Path
from typing import Literal

from publisher.catalogue.workshop import Workshop
from publisher.errors import PublisherError
from publisher.frozen import frozen


@frozen
class Order:
    """An order for a release. No editions named: those that say so themselves."""

    workshop: Workshop
    path: Path
    editions: tuple[str, ...]
    papers: tuple[str, ...]
    dry: bool = False


@frozen
class Released:
    """The outcome of a release. `files`: their names in the folder; `since`: the version that the
    errata are against, "" where there is none; `changes`: what they say in a line, `errata` in
    full; `notes`: what the writer should look at."""

    slug: str
    version: str
    folder: Path
    state: Literal["made", "there", "dry"]
    files: tuple[str, ...] = ()
    since: str = ""
    changes: str = ""
    errata: str = ""
    notes: tuple[str, ...] = ()


class ReleaseError(PublisherError):
    """It can't be released as it is. `trace`: where an unexpected error came from."""

    trace: str = ""
