"""Turn a PNG picture, one pixel a knot in exact palette colours, into rows of letters."""

from __future__ import annotations

import struct
from array import array
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Set
from io import BytesIO
from typing import TYPE_CHECKING, NamedTuple

from publisher.model.colour import Colour
from publisher.png import SIGNATURE
from publisher.source.chart import OVERSIZE_HINT, knots, too_large

if TYPE_CHECKING:
    from PIL.Image import Image

Rows = tuple[str, ...]
Said = tuple[str, str]
"""What is wrong, and what to do."""


class ChartPicture(NamedTuple):
    """Rows of letters, and the width of the picture's pixels over their height."""

    rows: Rows
    pixel_proportion: float


_MOST_TOLD = 6
METRES_AN_INCH = 0.0254
_EXPORT = "save it again from your drawing program, as a PNG"
_DAMAGED = "this picture is damaged and can't be opened", _EXPORT


def read_picture(
    data: bytes, letters: Mapping[Colour, str], names: Mapping[str, str]
) -> ChartPicture | list[Said]:
    """The picture as rows of letters, or everything that is wrong with it.

    `letters`: each colour's letter; `names`: each letter's name, to say which was meant.
    """
    wrong = _inspect(data)
    if wrong:
        return [wrong]
    try:
        image, proportion = _decode(data)
    except Exception:  # Pillow has no one exception for a broken file
        return [_DAMAGED]
    pixels = array("I", image.tobytes())
    known = {_as_pixel(colour): letter for colour, letter in letters.items()}
    width = image.width
    try:
        cells = "".join([known[pixel] for pixel in pixels])
    except KeyError:
        return list(
            _strangers(pixels, width, {*known}, lambda colour: _nearest(colour, letters, names))
        )
    rows = tuple(cells[start : start + width] for start in range(0, len(cells), width))
    return ChartPicture(rows, proportion)


def _inspect(data: bytes) -> Said | None:
    """Return what is wrong with the header, which tells the size before anything is unpacked."""
    if not data.startswith(SIGNATURE) or data[12:16] != b"IHDR" or len(data) < 33:
        return "this is not a PNG picture", _EXPORT
    columns, rows, depth = struct.unpack(">IIB", data[16:25])
    if not columns or not rows:
        return _DAMAGED
    size = too_large(columns, rows)
    if size:
        return size.replace("chart", "picture"), f"make it one pixel a knot, or {OVERSIZE_HINT}"
    if depth == 16:
        return "this picture has 16 bits a channel", "save it with 8 bits a channel"
    return None


def _decode(data: bytes) -> tuple[Image, float]:
    """The picture as four channels, and the proportion of its pixels."""
    import PIL.Image

    with PIL.Image.open(BytesIO(data), formats=["PNG"]) as image:
        # What follows the pixels may not say how they look: so it is asked for before they load.
        proportion = pixel_proportion(image)
        image.load()
        return image.convert("RGBA"), proportion


def pixel_proportion(image: Image) -> float:
    """Width over height of a pixel, by the pHYs chunk: pixels a unit across and down.

    PNG Specification, Third Edition (W3C 2025), 11.3.4.3; without the chunk pixels are square.
    A unit that holds none says nothing: square, too.
    """
    across, down = image.info.get("aspect", (0, 0))
    if "dpi" in image.info:  # Pillow has turned pixels a metre into pixels an inch
        across, down = (round(dots / METRES_AN_INCH) for dots in image.info["dpi"])
    return down / across if across and down else 1.0


def _as_pixel(colour: Colour) -> int:
    """An opaque pixel as its four bytes stand in memory."""
    return array("I", bytes((colour.red, colour.green, colour.blue, 255)))[0]


def _as_colour(pixel: int) -> tuple[Colour, int]:
    red, green, blue, alpha = array("I", [pixel]).tobytes()
    return Colour(red, green, blue), alpha


def _strangers(
    pixels: array[int], width: int, known: Set[int], advise: Callable[[Colour], str]
) -> Iterator[Said]:
    """Pixels that are see-through, and colours that are not in the palette: each told once."""
    counts = Counter(pixels)
    odd = [pixel for pixel in counts if pixel not in known]
    clear = [pixel for pixel in odd if _as_colour(pixel)[1] < 255]
    if clear:
        first = min(pixels.index(pixel) for pixel in clear)
        more = _more(sum(counts[pixel] for pixel in clear))
        hint = "fill it: every knot has one full colour"
        yield f"{_where(first, width)} is see-through{more}", hint
    solid = sorted({*odd} - {*clear}, key=lambda pixel: (-counts[pixel], pixel))
    for pixel in solid[:_MOST_TOLD]:
        colour, _ = _as_colour(pixel)
        more = _more(counts[pixel])
        where = _where(pixels.index(pixel), width)
        yield f"{where} is {colour}, which is none of the [colours]{more}", advise(colour)
    if len(solid) > _MOST_TOLD:
        rest = solid[_MOST_TOLD:]
        count = knots(sum(counts[pixel] for pixel in rest))
        message = f"{len(rest):,} more colours, on {count}, are none of the [colours]"
        yield message, _TOO_MANY


def _where(at: int, width: int) -> str:
    return f"row {at // width + 1}, cord {at % width + 1}"


def _more(count: int) -> str:
    return f", as on {knots(count - 1)} more" if count > 1 else ""


def _nearest(colour: Colour, letters: Mapping[Colour, str], names: Mapping[str, str]) -> str:
    """Return what to do about a colour that is not in the palette."""

    def distance(other: Colour) -> int:
        red, green, blue = (
            colour.red - other.red,
            colour.green - other.green,
            colour.blue - other.blue,
        )
        return 2 * red * red + 4 * green * green + 3 * blue * blue

    near = min(letters, key=distance)
    letter = letters[near]
    return f"paint it {near}, {names[letter]} ({letter}), or add it to the [colours]"


_TOO_MANY = (
    "save it without smoothed edges (anti-aliasing), or let `publisher chart` make a chart of it"
)
