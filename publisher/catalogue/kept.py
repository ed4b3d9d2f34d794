"""Keep a plan between runs: to bytes and back, taking only what is whole and only our own values.

A pickle can name any function; ours may name dataclasses of this package alone, and a digest in
front of it finds what was cut off or changed.
"""

from __future__ import annotations

import io
import pickle
from contextlib import suppress
from dataclasses import is_dataclass
from hashlib import blake2b
from pathlib import Path
from typing import TYPE_CHECKING, Any

from publisher.catalogue.digests import digest_of, digest_of_pattern, program_digest
from publisher.catalogue.putting import WorkFolder

if TYPE_CHECKING:
    from publisher.plan.values import Plan
    from publisher.source.pattern import Pattern

_MARK = b"publisher plan 1\n"
_SIZE = 16


def plan_path(out: Path, pattern: Pattern, hand: str) -> Path:
    """Where a pattern's plan for a hand is kept: named after what it is computed from and by."""
    key = digest_of(digest_of_pattern(pattern).encode(), program_digest().encode())
    return out / ".cache" / "plans" / pattern.slug / hand / key


def keep_plan(work: WorkFolder, path: Path, plan: bytes) -> None:
    """Keep a plan, in the place of those that the pattern had before."""
    work.try_to_put(path, plan)
    with suppress(OSError):
        for other in path.parent.iterdir():
            if other != path:
                other.unlink()


def plan_to_bytes(plan: Plan) -> bytes:
    body = pickle.dumps(plan, protocol=5)
    return _MARK + blake2b(body, digest_size=_SIZE).digest() + body


def plan_from_bytes(kept: bytes) -> Plan | None:
    """The plan, or None where these bytes are not a plan as it was kept."""
    from publisher.plan.values import Plan

    start = len(_MARK) + _SIZE
    body = kept[start:]
    if kept[:start] != _MARK + blake2b(body, digest_size=_SIZE).digest():
        return None
    try:
        plan = _Values(io.BytesIO(body)).load()
    except Exception:  # whatever a strange pickle can raise: it is no plan of ours
        return None
    return plan if isinstance(plan, Plan) else None


class _Values(pickle.Unpickler):
    """An unpickler that knows no names but those of our own dataclasses."""

    def find_class(self, module: str, name: str) -> Any:
        if module.startswith("publisher."):
            found = super().find_class(module, name)
            if isinstance(found, type) and is_dataclass(found):
                return found
        raise pickle.UnpicklingError(f"{module}.{name} is no value of ours")
