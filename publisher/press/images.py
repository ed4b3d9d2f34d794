"""Draw an embedded PNG. Nothing is ever fetched, and no picture too large is opened."""

from __future__ import annotations

import base64
import binascii
import io
import struct
from functools import lru_cache
from typing import Any

from publisher.press.binding import cairocffi
from publisher.press.paint import attribute
from publisher.press.tree import Node, PageError, link_of

MAX_PIXELS = 25_000_000
_KEPT = 2
_PREFIX = "data:image/png;base64,"
_SIGNATURE = b"\x89PNG\r\n\x1a\n"
_SHARP = frozenset({"pixelated", "crisp-edges", "optimizeSpeed"})


def draw_image(context: Any, node: Node) -> None:
    """Draw an <image> into its x, y, width and height, its proportion kept unless
    `preserveAspectRatio="none"`. PageError if it is anything but an embedded PNG."""
    picture = _decode(link_of(node))
    across, down = picture.get_width(), picture.get_height()
    width, height = attribute(node, "width"), attribute(node, "height")
    if width <= 0 or height <= 0:
        raise PageError("an image has no width and height", "write both, in mm", node.line)
    x, y = attribute(node, "x"), attribute(node, "y")
    scale_x, scale_y = width / across, height / down
    if node.own.get("preserveAspectRatio") != "none":
        scale_x = scale_y = min(scale_x, scale_y)
        x += (width - across * scale_x) / 2
        y += (height - down * scale_y) / 2
    context.save()
    context.translate(x, y)
    context.scale(scale_x, scale_y)
    context.set_source_surface(picture, 0, 0)
    sharp = node.style.get("image-rendering") in _SHARP
    context.get_source().set_filter(cairocffi.FILTER_NEAREST if sharp else cairocffi.FILTER_GOOD)
    context.rectangle(0, 0, across, down)
    context.clip()  # a paint without a clip would wipe away the tags that cairo has recorded
    context.paint_with_alpha(attribute(node, "opacity", 1.0))
    context.restore()


@lru_cache(maxsize=_KEPT)
def _decode(link: str) -> Any:
    """The picture as a cairo surface. One that comes again on other pages is the same surface,
    so that it stands in the PDF once."""
    if not link.startswith(_PREFIX):
        what = f"an image leads to “{link[:40]}”"
        raise PageError(what, "embed it as data:image/png;base64,…")
    try:
        data = base64.b64decode("".join(link[len(_PREFIX) :].split()), validate=True)
    except binascii.Error:
        raise PageError("an image's data is not base64", "embed it anew") from None
    if not data.startswith(_SIGNATURE) or len(data) < 33:
        raise PageError("an image is not a PNG", "embed it anew")
    across, down = struct.unpack(">II", data[16:24])
    if across * down > MAX_PIXELS:
        what = f"an image has {across} × {down} pixels"
        raise PageError(what, f"scale it down to {MAX_PIXELS // 1_000_000} million at most")
    try:
        return cairocffi.ImageSurface.create_from_png(io.BytesIO(data))
    except (cairocffi.CairoError, OSError, MemoryError, ValueError):
        raise PageError("an image is a damaged PNG", "embed it anew") from None
