"""Draw an embedded PNG. Nothing is ever fetched, and no picture too large is opened."""

from __future__ import annotations

import base64
import io
import struct
import zlib
from functools import lru_cache
from typing import TYPE_CHECKING

from publisher.compression import deflated
from publisher.png import SIGNATURE
from publisher.press.pdf.content import ContentStream, Raster, name_of
from publisher.press.svg.paint import attribute, opacity
from publisher.press.svg.tree import Node, PageError, link_of

if TYPE_CHECKING:
    from PIL.Image import Image

MAX_PIXELS = 25_000_000
_KEPT = 4
_PREFIX = "data:image/png;base64,"
_LAST_FILTER = 4
_SHARP = frozenset({"pixelated", "crisp-edges", "optimizeSpeed"})


def draw_image(content: ContentStream, node: Node) -> None:
    """Draw an <image> into its x, y, width and height, its proportion kept unless
    `preserveAspectRatio="none"`. PageError if it is anything but an embedded PNG."""
    sharp = node.style.get("image-rendering") in _SHARP
    across, down, raster, name = _decode(link_of(node), sharp)
    width, height = attribute(node, "width"), attribute(node, "height")
    if width <= 0 or height <= 0:
        raise PageError("an image has no width and height", "write both, in mm", node.line)
    x, y = attribute(node, "x"), attribute(node, "y")
    scale_x, scale_y = width / across, height / down
    if node.own.get("preserveAspectRatio") != "none":
        scale_x = scale_y = min(scale_x, scale_y)
        x += (width - across * scale_x) / 2
        y += (height - down * scale_y) / 2
    content.push()
    content.fill_colour((0.0, 0.0, 0.0, 1.0), opacity(node))
    content.raster(name, raster, (x, y, across * scale_x, down * scale_y))
    content.pop()


@lru_cache(maxsize=_KEPT)
def _decode(link: str, sharp: bool) -> tuple[int, int, Raster, str]:
    """Width and height in pixels, the picture and its name. One that comes again on other pages
    has the same name, so that it stands in the PDF once."""
    if not link.startswith(_PREFIX):
        what = f"an image leads to “{link[:40]}”"
        raise PageError(what, "embed it as data:image/png;base64,…")
    try:
        data = base64.b64decode("".join(link[len(_PREFIX) :].split()), validate=True)
    except ValueError:  # a letter that is no part of it, or too few of them
        raise PageError("an image's data is not base64", "embed it anew") from None
    if not data.startswith(SIGNATURE) or len(data) < 33:
        raise PageError("an image is not a PNG", "embed it anew")
    across, down = struct.unpack(">II", data[16:24])
    if across * down > MAX_PIXELS:
        what = f"an image has {across} × {down} pixels"
        raise PageError(what, f"scale it down to {MAX_PIXELS // 1_000_000} million at most")
    try:
        raster = _as_it_is(data, across, down, sharp) or _read(data, sharp)
    except (OSError, ValueError, SyntaxError, struct.error, zlib.error, MemoryError):
        raise PageError("an image is a damaged PNG", "embed it anew") from None
    return across, down, raster, name_of("I", data + bytes([sharp]))


def _as_it_is(data: bytes, across: int, down: int, sharp: bool) -> Raster | None:
    """A PNG of 8-bit palette colours, its rows taken over as they are: a PDF undoes the same
    filters (ISO 32000-1, 7.4.4.4). None for any other, or one with a part that is not needed."""
    if data[24:29] != b"\x08\x03\x00\x00\x00" or not across * down:
        return None
    chunks = {b"PLTE": bytearray(), b"IDAT": bytearray()}
    at = len(SIGNATURE)
    while at + 12 <= len(data):
        length, kind = struct.unpack(">I4s", data[at : at + 8])
        body = data[at + 8 : at + 8 + length]
        if zlib.crc32(kind + body) != int.from_bytes(data[at + 8 + length : at + 12 + length]):
            raise ValueError("a part's check does not hold")
        if kind == b"tRNS":
            return None
        if kind in chunks:
            chunks[kind] += body
        at += 12 + length
    colours = len(chunks[b"PLTE"]) // 3
    wanted = (across + 1) * down
    rows = zlib.decompressobj().decompress(chunks[b"IDAT"], wanted + 1)
    if len(rows) != wanted or not 0 < colours <= 256:
        raise ValueError("not as many pixels, or colours, as there have to be")
    if max(rows[:: across + 1]) > _LAST_FILTER:
        raise ValueError("rows of a filter that is none")
    predictor = f"/DecodeParms<</Predictor 15/Colors 1/BitsPerComponent 8/Columns {across}>>"
    palette = chunks[b"PLTE"].hex()
    space = f"[/Indexed/DeviceRGB {colours - 1}<{palette}>]"
    return Raster(_entries(across, down, space, sharp) + predictor, bytes(chunks[b"IDAT"]))


def _read(data: bytes, sharp: bool) -> Raster:
    """Any other PNG, its opacity taken apart from its colours."""
    from PIL import Image

    with Image.open(io.BytesIO(data)) as opened:
        opened.load()
        image = _deep_grey(opened) if opened.mode.startswith("I") else opened.convert("RGBA")
    across, down = image.size
    mask = None
    alpha = image.getchannel("A")
    if alpha.getextrema() != (255, 255):
        mask = Raster(_entries(across, down, "/DeviceGray", sharp), deflated(alpha.tobytes()))
    colours = image.convert("RGB").tobytes()
    return Raster(_entries(across, down, "/DeviceRGB", sharp), deflated(colours), mask)


def _deep_grey(opened: Image) -> Image:
    """Grey of 16 bits a pixel, of which the upper 8 are taken, as of colours."""
    import numpy as np
    from PIL import Image

    levels = np.asarray(opened).astype(np.uint16)
    grey = Image.fromarray((levels >> 8).astype(np.uint8))
    opaque = levels != opened.info.get("transparency", -1)
    alpha = Image.fromarray(np.where(opaque, 255, 0).astype(np.uint8))
    return Image.merge("RGBA", (grey, grey, grey, alpha))


def _entries(across: int, down: int, space: str, sharp: bool) -> str:
    smooth = "" if sharp else "/Interpolate true"
    size = f"/Width {across}/Height {down}/BitsPerComponent 8"
    return f"/Type/XObject/Subtype/Image{size}/ColorSpace {space}{smooth}"
