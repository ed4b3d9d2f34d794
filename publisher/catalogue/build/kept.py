"""Keep plans, drawn pages and drawn parts between runs: to bytes and back, taking only what is
whole and ours.

A pickle can name any function; ours may name values of this package alone, and a digest in front of
it finds what was cut off or changed.
"""

from __future__ import annotations

import io
import pickle
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import is_dataclass
from hashlib import blake2b
from pathlib import Path
from typing import TYPE_CHECKING, Any

from publisher.catalogue.build.digests import (
    digest_of,
    digest_of_pattern,
    drawing_digest,
    planning_digest,
)
from publisher.catalogue.build.publish_files import WorkFolder
from publisher.catalogue.build.values import Target

if TYPE_CHECKING:
    from publisher.drawing.kept import Figures
    from publisher.model.pattern import Pattern
    from publisher.model.plan import Plan
    from publisher.press import Fragment

_PLAN, _PAGES = b"publisher plan 1\n", b"publisher pages 1\n"
_PARTS = b"publisher parts 1\n"
_SIZE = 16


def plan_path(out: Path, pattern: Pattern, hand: str) -> Path:
    """Return where a pattern's plan for a hand is kept: named after what it is computed from and
    by."""
    key = digest_of(digest_of_pattern(pattern).encode(), planning_digest().encode())
    return out / ".cache" / "plans" / pattern.slug / hand / key


def pages_path(out: Path, slug: str, target: Target) -> Path:
    """Return where the drawn pages of a book are kept: named after what draws them."""
    return out / ".cache" / "pages" / slug / target.name / drawing_digest()


def parts_path(out: Path, slug: str, target: Target) -> Path:
    """Return where the figures of parts that a target shows are kept."""
    return out / ".cache" / "parts" / slug / target.name / drawing_digest()


def keep(work: WorkFolder, path: Path, content: bytes) -> None:
    """Keep something, in the place of what was kept beside it before."""
    work.try_to_put(path, content)
    with suppress(OSError):
        for other in path.parent.iterdir():
            if other != path:
                other.unlink()


def plan_to_bytes(plan: Plan) -> bytes:
    """The plan as bytes to keep."""
    return _to_bytes(_PLAN, plan)


def plan_from_bytes(kept: bytes) -> Plan | None:
    """The plan, or None where these bytes are not a plan as it was kept."""
    from publisher.model.plan import Plan

    plan = _from_bytes(_PLAN, kept)
    return plan if isinstance(plan, Plan) else None


def pages_to_bytes(pieces: Mapping[str, Fragment]) -> bytes:
    """Drawn pages as bytes to keep."""
    return _to_bytes(_PAGES, dict(pieces))


def pages_from_bytes(kept: bytes) -> dict[str, Fragment]:
    """The drawn pages; none where these bytes are not pages as they were kept."""
    from publisher.press import Fragment

    pieces = _from_bytes(_PAGES, kept)
    if isinstance(pieces, dict) and all(isinstance(piece, Fragment) for piece in pieces.values()):
        return pieces
    return {}


def parts_to_bytes(figures: Mapping[str, Figures]) -> bytes:
    """The figures of parts as bytes to keep."""
    return _to_bytes(_PARTS, dict(figures))


def parts_from_bytes(kept: bytes) -> dict[str, Figures]:
    """The figures of parts; none where these bytes are not figures as they were kept."""
    figures = _from_bytes(_PARTS, kept)
    if isinstance(figures, dict) and all(map(_are_figures, figures.values())):
        return figures
    return {}


def _are_figures(value: object) -> bool:
    from publisher.model.figure import Figure

    return isinstance(value, tuple) and all(isinstance(one, Figure) for one in value)


def _to_bytes(mark: bytes, value: object) -> bytes:
    body = pickle.dumps(value, protocol=5)
    return mark + blake2b(body, digest_size=_SIZE).digest() + body


def _from_bytes(mark: bytes, kept: bytes) -> object:
    start = len(mark) + _SIZE
    body = kept[start:]
    if kept[:start] != mark + blake2b(body, digest_size=_SIZE).digest():
        return None
    try:
        return _Values(io.BytesIO(body)).load()
    except Exception:  # whatever a strange pickle can raise: it is nothing of ours
        return None


class _Values(pickle.Unpickler):
    """An unpickler that knows no names but those of our own values: dataclasses, named tuples."""

    def find_class(self, module: str, name: str) -> Any:
        if module.startswith("publisher."):
            found = super().find_class(module, name)
            if isinstance(found, type) and (is_dataclass(found) or hasattr(found, "_fields")):
                return found
        raise pickle.UnpicklingError(f"{module}.{name} is no value of ours")
