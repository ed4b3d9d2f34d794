"""Write a picture of pixels as a PNG (W3C, Portable Network Graphics), rows as they are.

For pictures of cords and charts, rows without a filter come out smaller than with one.
"""

from __future__ import annotations

import struct
import zlib

from publisher.compression import deflated

SIGNATURE = b"\x89PNG\r\n\x1a\n"
_PER_METRE = 1 / 0.0254
_COLOURS, _PALETTE = 2, 3


def write_png(width: int, height: int, rows: bytes, stride: int, dpi: float) -> bytes:
    """`rows`: red, green and blue, a byte each; a row begins every `stride` bytes."""
    per_metre = round(dpi * _PER_METRE)
    size = _chunk(b"pHYs", struct.pack(">IIB", per_metre, per_metre, 1))
    return _png(width, height, _COLOURS, size, _filtered(rows, 3 * width, stride, height))


def write_palette_png(width: int, height: int, pixels: bytes, palette: bytes) -> bytes:
    """`pixels`: a byte each, which of the colours of `palette` (red, green, blue) it has."""
    rows = _filtered(pixels, width, width, height)
    return _png(width, height, _PALETTE, _chunk(b"PLTE", palette), rows)


def _filtered(rows: bytes, across: int, stride: int, height: int) -> bytes:
    """Each row behind the number of its filter: none."""
    starts = range(0, stride * height, stride)
    return b"".join([b"\0" + rows[start : start + across] for start in starts])


def _png(width: int, height: int, kind: int, before: bytes, rows: bytes) -> bytes:
    head = _chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, kind, 0, 0, 0))
    data = _chunk(b"IDAT", deflated(rows))
    return b"".join((SIGNATURE, head, before, data, _chunk(b"IEND", b"")))


def _chunk(kind: bytes, data: bytes) -> bytes:
    check = zlib.crc32(data, zlib.crc32(kind))
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", check)
