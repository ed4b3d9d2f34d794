"""Keep what the index says of each pattern: JSON, checked against the digest in its record."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

from publisher.catalogue.build.digests import digest_of

if TYPE_CHECKING:
    from publisher.manuscript.index import IndexEntry


def entry_path(out: Path, slug: str) -> Path:
    """Return where what the index says of a pattern is kept."""
    return out / ".cache" / "entries" / f"{slug}.json"


def entry_to_bytes(entry: IndexEntry) -> bytes:
    """The entry as JSON, in UTF-8."""
    return json.dumps(asdict(entry), ensure_ascii=False).encode()


def read_entry(out: Path, slug: str, digest: str) -> IndexEntry | None:
    """The entry that has this digest; None where it is not there, or not as it was kept."""
    from publisher.manuscript.index import IndexEntry
    from publisher.model.figure import Figure

    try:
        kept = entry_path(out, slug).read_bytes()
        if digest_of(kept) != digest:
            return None
        table = json.loads(kept)
        colours = tuple((str(name), str(paint)) for name, paint in table.pop("colours"))
        return IndexEntry(**{**table, "colours": colours, "picture": Figure(**table["picture"])})
    except (OSError, ValueError, TypeError, KeyError):
        return None
