"""Keep packs of what was made in the output folder, from run to run: one of each target, one of
each plan, and one of what all targets share."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from publisher.catalogue.build.digests import knots_digest
from publisher.catalogue.build.publish_files import WorkFolder
from publisher.store import pack, unpack

_MOST_SHARED = 400
"""Drawings of knots; a catalogue has some dozens."""


def plan_slot(hand: str) -> str:
    """Return the name of the pack that a pattern's plan for a hand is in."""
    return f"plan-{hand}"


def pack_path(out: Path, slug: str, slot: str) -> Path:
    """Return where a pack of a pattern is kept."""
    return out / ".cache" / "store" / slug / slot


def read_pack(path: Path) -> bytes:
    """The pack in a file, nothing where there is none."""
    try:
        return path.read_bytes()
    except OSError:
        return b""


def read_shared(out: Path) -> dict[str, bytes]:
    """Return what all targets share: the drawings of knots that came with the program, and those
    that were made for this folder."""
    made_by = knots_digest()
    packs = read_pack(installed_pack()), read_pack(_shared_path(out))
    return {key: entry for packed in packs for key, entry in unpack(packed, made_by).items()}


def record_shared(work: WorkFolder, out: Path, fresh: Mapping[str, bytes]) -> None:
    """Add entries to what all targets share; the oldest go where there are too many."""
    if fresh:
        made_by = knots_digest()
        known = unpack(read_pack(_shared_path(out)), made_by)
        entries = list({**known, **fresh}.items())[-_MOST_SHARED:]
        work.try_to_put(_shared_path(out), pack(dict(entries), made_by))


def installed_pack() -> Path:
    """Return where the drawings of our own knots are, that were made when the program was
    packed."""
    return Path(__file__).parents[2] / "knots" / "drawings.pack"


def _shared_path(out: Path) -> Path:
    return out / ".cache" / "shared"
