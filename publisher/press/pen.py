"""Give cairo path steps and glyphs without the round of checks that its binding adds to each call.

An error stays in the context, and the next ordinary call on it raises it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache, partial
from struct import Struct
from typing import Any, Protocol

import cairocffi

_raw: Any = cairocffi.cairo
_MANY = 1024
_ONE_TO_ONE = cairocffi.ffi.new("cairo_text_cluster_t[]", [(1, 1)] * _MANY)


class Steps(Protocol):
    """What a path is traced with."""

    def move_to(self, x: float, y: float, /) -> None: ...
    def line_to(self, x: float, y: float, /) -> None: ...
    def curve_to(
        self, x1: float, y1: float, x2: float, y2: float, x: float, y: float, /
    ) -> None: ...
    def close_path(self) -> None: ...
    def new_path(self) -> None: ...


class Pen:
    """The path steps of one cairo context."""

    def __init__(self, context: Any) -> None:
        pointer = context._pointer
        self.move_to: Callable[[float, float], None] = partial(_raw.cairo_move_to, pointer)
        self.line_to: Callable[[float, float], None] = partial(_raw.cairo_line_to, pointer)
        self.curve_to: Callable[[float, float, float, float, float, float], None] = partial(
            _raw.cairo_curve_to, pointer
        )
        self.close_path: Callable[[], None] = partial(_raw.cairo_close_path, pointer)
        self.new_path: Callable[[], None] = partial(_raw.cairo_new_path, pointer)


def set_ink(context: Any, rgba: tuple[float, float, float, float], share: float = 1.0) -> None:
    """Paint in a colour from here on, `share` of its opacity."""
    red, green, blue, alpha = rgba
    _raw.cairo_set_source_rgba(context._pointer, red, green, blue, alpha * share)


def set_font(context: Any, face: Any, size: float) -> None:
    """Write in a font face from here on, `size` in user units."""
    _raw.cairo_set_font_face(context._pointer, face._pointer)
    _raw.cairo_set_font_size(context._pointer, size)


def show_glyphs(
    context: Any, text: str, flat: Sequence[float], clusters: Sequence[tuple[int, int]] | None
) -> None:
    """Show glyphs, given flat as number, x, y, number, x, y, …, as those of a text.

    `clusters` None says that every byte of the text is one glyph.
    """
    count = len(flat) // 3
    glyphs = cairocffi.ffi.from_buffer("cairo_glyph_t[]", _layout(count).pack(*flat))
    if clusters is None and count <= _MANY:
        groups, group_count = _ONE_TO_ONE, count
    else:
        pairs = [(1, 1)] * count if clusters is None else clusters
        groups, group_count = cairocffi.ffi.new("cairo_text_cluster_t[]", pairs), len(pairs)
    encoded = text.encode()
    _raw.cairo_show_text_glyphs(
        context._pointer, encoded, len(encoded), glyphs, count, groups, group_count, 0
    )


@cache
def _layout(count: int) -> Struct:
    """The memory of that many cairo_glyph_t."""
    return Struct("Ldd" * count)
