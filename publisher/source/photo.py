"""Open a photo or drawing, and give its pixels strip by strip, in sRGB, 8 bits a channel."""

from __future__ import annotations

import warnings
from collections.abc import Callable, Iterator
from contextlib import suppress
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from publisher.errors import MORE_OPEN, Place, Problem, SourceError, UsageError, is_at_limit
from publisher.frozen import frozen
from publisher.source.picture import pixel_proportion

if TYPE_CHECKING:
    from PIL.Image import Image

MOST_PIXELS = 150_000_000
"""Some 600 MB when they are unpacked."""
_LARGE_JPEG = 50_000_000
"""A JPEG with more pixels is unpacked at half its size, or less."""
_FORMATS = ("PNG", "JPEG", "MPO", "WEBP", "GIF", "BMP", "TIFF", "PPM", "TGA", "AVIF", "JPEG2000")
_ORIENTATION = 274
_TURNS = range(1, 9)
_QUARTER_TURN = 5
"""Exif 2.32: from this orientation on, rows are columns."""
_SQUARISH = (0.25, 4.0)
"""A proportion of pixels beyond these is a mistake in the file."""
_SIXTEEN_BITS = [value >> 8 for value in range(1 << 16)]
_HAS_OPACITY = ("RGBA", "RGBa", "LA", "La", "PA")

Convert = Callable[["Image"], "Image"]


@frozen(eq=False)
class Photo:
    """A picture as it is stored; `turn` says how it is looked at."""

    width: int
    height: int
    channels: int
    turn: int
    proportion: float
    """Width over height of the whole picture, as it is looked at."""
    pictures: int
    """How many the file holds; this is the first."""
    _image: Image
    _convert: Convert

    @property
    def across(self) -> int:
        """The number of pixels across, as it is looked at."""
        return self.height if self.turn >= _QUARTER_TURN else self.width

    def strips(self, height: int) -> Iterator[bytes]:
        """Read all its rows from the top, so many at a time."""
        for top in range(0, self.height, height):
            box = (0, top, self.width, min(self.height, top + height))
            yield self._convert(self._image.crop(box)).tobytes()


def open_photo(path: Path) -> Photo:
    """UsageError where there is no such file; SourceError where it can't be read as a picture."""
    import PIL.Image

    _look_for(path)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")  # what Pillow finds odd, such as a large picture
        try:
            image = PIL.Image.open(path, formats=_known_formats())
        except PIL.UnidentifiedImageError:
            raise _wrong(path, "this is not a picture that can be read", _SAVE) from None
        except PIL.Image.DecompressionBombError:
            raise _too_large(path) from None
        except OSError as error:
            reason = error.strerror or "it is damaged"
            hint = MORE_OPEN if is_at_limit(error) else _SAVE
            raise _wrong(path, f"this picture can't be read ({reason.lower()})", hint) from None
        except Exception:  # Pillow has no one exception for a broken file
            raise _wrong(path, _DAMAGED, _SAVE) from None
        with image:
            return _load(path, image)


def _known_formats() -> list[str]:
    """Those that this Pillow has. No others: some of them start other programs."""
    import PIL.Image

    PIL.Image.init()
    return [name for name in _FORMATS if name in PIL.Image.OPEN]


def _load(path: Path, image: Image) -> Photo:
    if image.width * image.height > MOST_PIXELS:
        raise _too_large(path)
    shape = image.width, image.height
    try:
        pixels = pixel_proportion(image)
        pictures = 1 if image.format == "MPO" else getattr(image, "n_frames", 1)
        half = 1
        while shape[0] * shape[1] > _LARGE_JPEG * half * half:
            half *= 2
        if half > 1:
            image.draft(image.mode, (shape[0] // half, shape[1] // half))
        image.load()
        turn = _turn(image)
        convert = _conversion(image)
        with_opacity = _has_opacity(image)
    except MemoryError:
        raise _too_large(path) from None
    except SourceError:
        raise
    except Exception:
        raise _wrong(path, _DAMAGED, _SAVE) from None
    if convert is None:
        message = f"this picture has numbers for other programs in it ({image.mode}), not colours"
        raise _wrong(path, message, _SAVE)
    low, high = _SQUARISH
    pixels = pixels if low <= pixels <= high else 1.0
    proportion = pixels * shape[0] / shape[1]
    return Photo(
        width=image.width,
        height=image.height,
        channels=4 if with_opacity else 3,
        turn=turn,
        proportion=1 / proportion if turn >= _QUARTER_TURN else proportion,
        pictures=pictures,
        _image=image,
        _convert=convert,
    )


def _turn(image: Image) -> int:
    """Asked for when the pixels are there: a PNG may say it behind them."""
    with suppress(Exception):  # Exif data can be broken in many ways, and then says nothing
        turn = image.getexif().get(_ORIENTATION, 1)
        return turn if turn in _TURNS else 1
    return 1


def _has_opacity(image: Image) -> bool:
    if image.mode.startswith("I"):
        return False
    return image.mode in _HAS_OPACITY or "transparency" in image.info


def _conversion(image: Image) -> Convert | None:
    """Return how a part of the picture becomes RGB, or RGBA where some is see-through."""
    mode = image.mode
    if mode == "F":
        return None
    if mode.startswith("I"):
        return lambda part: part.convert("I").point(_SIXTEEN_BITS, "L").convert("RGB")
    if _has_opacity(image):
        profiled = _to_srgb(image, "RGB")

        def with_opacity(part: Image) -> Image:
            whole = part.convert("RGBA")
            if profiled is None:
                return whole
            coloured = profiled(whole.convert("RGB"))
            coloured.putalpha(whole.getchannel("A"))
            return coloured

        return with_opacity
    profiled = _to_srgb(image, mode)
    return profiled or (lambda part: part.convert("RGB"))


def _to_srgb(image: Image, mode: str) -> Convert | None:
    """By the picture's own colour profile; None where it has none that can be used."""
    profile = image.info.get("icc_profile")
    if not profile:
        return None
    with suppress(Exception):  # a profile that is broken, or for other colours than these
        from PIL import ImageCms

        own = ImageCms.ImageCmsProfile(BytesIO(profile))
        plain = mode if mode in ("RGB", "CMYK", "L", "LAB") else "RGB"
        change = ImageCms.buildTransform(own, ImageCms.createProfile("sRGB"), plain, "RGB")

        def convert(part: Image) -> Image:
            return change.apply(part if part.mode == plain else part.convert(plain))

        return convert
    return None


def _look_for(path: Path) -> None:
    try:
        if path.is_file():
            return
        message = "this is a folder" if path.is_dir() else "there is no such picture"
    except (OSError, ValueError):
        message = "there is no such picture"
    hint = "give the path of a picture, such as a PNG or a JPEG"
    raise UsageError(Problem(Place(str(path)), message, hint))


def _wrong(path: Path, message: str, hint: str) -> SourceError:
    return SourceError(Problem(Place(str(path)), message, hint))


def _too_large(path: Path) -> SourceError:
    message = f"this picture has more than {MOST_PIXELS // 1_000_000} million pixels"
    return _wrong(path, message, "make it smaller: 2,000 pixels across are plenty for a chart")


_DAMAGED = "this picture is damaged, or a part of it is missing"
_SAVE = "open it in a drawing program and save it again, as a PNG or a JPEG"
