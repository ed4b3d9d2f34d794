"""Draw on a cairo context without the check that its binding adds after each call.

An error stays in the context, and showing the page raises it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import cache, partial
from struct import Struct
from typing import Any, Protocol

from publisher.press.binding import cairocffi

Rgba = tuple[float, float, float, float]

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
    """A cairo context's own calls, bound; and what colour and font it holds just now.

    What is the same as before is not set again; `restore` forgets what it was.
    """

    move_to: Callable[[float, float], None]
    line_to: Callable[[float, float], None]
    curve_to: Callable[[float, float, float, float, float, float], None]
    close_path: Callable[[], None]
    new_path: Callable[[], None]
    new_sub_path: Callable[[], None]
    rectangle: Callable[[float, float, float, float], None]
    arc: Callable[[float, float, float, float, float], None]
    save: Callable[[], None]
    restore: Callable[[], None]
    translate: Callable[[float, float], None]
    scale: Callable[[float, float], None]
    fill: Callable[[], None]
    fill_preserve: Callable[[], None]
    stroke: Callable[[], None]
    set_fill_rule: Callable[[int], None]
    set_line_width: Callable[[float], None]
    set_line_cap: Callable[[int], None]
    set_line_join: Callable[[int], None]
    set_miter_limit: Callable[[float], None]
    _set_source_rgba: Callable[[float, float, float, float], None]
    _set_font_face: Callable[[Any], None]
    _set_font_size: Callable[[float], None]
    _show_text_glyphs: Callable[[bytes, int, Any, int, Any, int, int], None]

    def __init__(self, context: Any) -> None:
        self.context = context
        for name in Pen.__annotations__:
            setattr(
                self, name, partial(getattr(_raw, f"cairo_{name.lstrip('_')}"), context._pointer)
            )
        self._ink: Rgba | None = None
        self._font: tuple[Any, float] | None = None

    def push(self) -> None:
        """Keep colour, font and transform for a `pop`."""
        self.save()

    def pop(self) -> None:
        self.restore()
        self.forget()

    def forget(self) -> None:
        """Others have drawn on the context: its colour and font are not known any more."""
        self._ink = self._font = None

    def ink(self, rgba: Rgba, share: float = 1.0) -> None:
        """Paint in a colour from here on, `share` of its opacity."""
        red, green, blue, alpha = rgba
        wanted = (red, green, blue, alpha * share)
        if wanted != self._ink:
            self._ink = wanted
            self._set_source_rgba(*wanted)

    def font(self, face: Any, size: float) -> None:
        """Write in a font face from here on, `size` in user units."""
        if self._font != (face, size):
            self._font = (face, size)
            self._set_font_face(face._pointer)
            self._set_font_size(size)

    def show_glyphs(
        self, text: str, flat: Sequence[float], clusters: Sequence[tuple[int, int]] | None
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
        self._show_text_glyphs(encoded, len(encoded), glyphs, count, groups, group_count, 0)


@cache
def _layout(count: int) -> Struct:
    """The memory of that many cairo_glyph_t."""
    return Struct("Ldd" * count)
