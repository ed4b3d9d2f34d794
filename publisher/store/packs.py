"""Turn values into bytes that outlive a run, and back, taking only what is whole and ours.

A pickle can name any function; ours may name values of this package alone, and a digest in front of
it finds what was cut off, changed, or made by another program.
"""

from __future__ import annotations

import io
import pickle
from collections.abc import Mapping
from dataclasses import is_dataclass
from hashlib import blake2b
from typing import Any

_MARK = b"publisher store 1\n"
_SIZE = 16


def pack(entries: Mapping[str, bytes], made_by: str) -> bytes:
    """Pack entries by their keys. `made_by`: what they are good for, a digest of the program."""
    body = pickle.dumps(dict(entries), protocol=5)
    return _MARK + _digest(made_by, body) + body


def unpack(packed: bytes, made_by: str) -> dict[str, bytes]:
    """Return the entries; none where the pack is damaged, or another program's."""
    start = len(_MARK) + _SIZE
    body = packed[start:]
    if packed[:start] != _MARK + _digest(made_by, body):
        return {}
    entries = from_bytes(body)
    return entries if isinstance(entries, dict) else {}


def to_bytes(value: object) -> bytes:
    """One value as bytes."""
    return pickle.dumps(value, protocol=5)


def from_bytes(kept: bytes) -> Any:
    """The value again; None where these bytes are no value of ours."""
    try:
        return _Values(io.BytesIO(kept)).load()
    except Exception:  # whatever a strange pickle can raise: it is nothing of ours
        return None


def _digest(made_by: str, body: bytes) -> bytes:
    return blake2b(made_by.encode() + b"\n" + body, digest_size=_SIZE).digest()


class _Values(pickle.Unpickler):
    """An unpickler that knows no names but those of our own values: dataclasses, named tuples."""

    def find_class(self, module: str, name: str) -> Any:
        if module.startswith("publisher."):
            found = super().find_class(module, name)
            if isinstance(found, type) and (is_dataclass(found) or hasattr(found, "_fields")):
                return found
        raise pickle.UnpicklingError(f"{module}.{name} is no value of ours")
