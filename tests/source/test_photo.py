"""Pictures of every kind are opened alike, and what can't be is told."""

from __future__ import annotations

import struct
import zlib
from pathlib import Path

import numpy as np
import pytest
from PIL import Image, ImageCms

from publisher.errors import SourceError, UsageError
from publisher.source import open_photo, photo
from publisher.source.photo import Photo

RED, GREEN = (200, 30, 30), (30, 140, 60)


def opened(path: Path) -> np.ndarray:
    """A picture's pixels."""
    one = open_photo(path)
    return joined(one, 7)


def joined(one: Photo, height: int) -> np.ndarray:
    raw = b"".join(one.strips(height))
    pixels = np.frombuffer(raw, np.uint8).reshape(one.height, one.width, one.channels)
    return pixels.astype(int)


def flag(mode: str = "RGB") -> Image.Image:
    """Red on the left, green on the right."""
    image = Image.new("RGB", (24, 16), RED)
    image.paste(GREEN, (12, 0, 24, 16))
    return image.convert(mode)


@pytest.mark.parametrize(
    ("name", "mode", "off"),
    [
        ("a.png", "RGB", 0),
        ("a.png", "P", 0),
        ("a.bmp", "RGB", 0),
        ("a.gif", "P", 0),
        ("a.tif", "RGB", 0),
        ("a.ppm", "RGB", 0),
        ("a.tga", "RGB", 0),
        ("a.jpg", "RGB", 4),
        ("a.webp", "RGB", 8),
        ("no-ending", "RGB", 0),
    ],
)
def test_every_format(tmp_path: Path, name: str, mode: str, off: int) -> None:
    path = tmp_path / name
    image = flag()
    image = image.quantize(4) if mode == "P" else image
    image.save(path, **({} if "." in name else {"format": "PNG"}))
    pixels = opened(path)
    assert pixels.shape == (16, 24, 3)
    assert pixels[8, 3] == pytest.approx(RED, abs=off)
    assert pixels[8, 20] == pytest.approx(GREEN, abs=off)


def test_strips_of_any_height_make_the_same_picture(tmp_path: Path) -> None:
    flag().save(tmp_path / "a.png")
    one = open_photo(tmp_path / "a.png")
    assert (joined(one, 1) == joined(one, 5)).all()
    assert (joined(one, 5) == joined(one, 100)).all()


@pytest.mark.parametrize("mode", ["1", "L", "LA", "RGBA", "CMYK", "I;16"])
def test_every_kind_of_pixel(tmp_path: Path, mode: str) -> None:
    if mode == "I;16":
        image = Image.fromarray(np.full((4, 6), 257 * 128, np.uint16))
    else:
        image = Image.new("L", (6, 4), 255 if mode == "1" else 128).convert(mode)
    path = tmp_path / ("a.tif" if mode == "CMYK" else "a.png")
    image.save(path)
    pixels = opened(path)
    assert pixels.shape[2] == (4 if mode in ("LA", "RGBA") else 3)
    assert pixels[0, 0, :3] == pytest.approx([255 if mode == "1" else 128] * 3, abs=1)


def test_one_see_through_colour_of_a_palette(tmp_path: Path) -> None:
    image = flag().quantize(4)
    image.save(tmp_path / "a.png", transparency=image.getpixel((0, 0)))
    pixels = opened(tmp_path / "a.png")
    assert pixels[0, 0, 3] == 0
    assert tuple(pixels[0, 20]) == (*GREEN, 255)


@pytest.mark.parametrize("turn", [*range(1, 9), 0, 9, 77])
def test_exif_turn_is_told(tmp_path: Path, turn: int) -> None:
    exif = Image.Exif()
    exif[274] = turn
    flag().save(tmp_path / "a.jpg", exif=exif)
    one = open_photo(tmp_path / "a.jpg")
    assert one.turn == (turn if 1 <= turn <= 8 else 1)
    assert (one.width, one.height) == (24, 16)
    assert one.proportion == pytest.approx(16 / 24 if one.turn > 4 else 24 / 16)


def test_broken_exif_turns_nothing(tmp_path: Path) -> None:
    flag().save(tmp_path / "a.jpg", exif=b"Exif\0\0II*\0\xff\xff\xff\xff")
    assert open_photo(tmp_path / "a.jpg").turn == 1


def test_pixels_that_are_not_square(tmp_path: Path) -> None:
    flag().save(tmp_path / "a.png", dpi=(100, 140))
    assert open_photo(tmp_path / "a.png").proportion == pytest.approx(24 / 16 * 1.4, rel=1e-3)


def test_a_senseless_proportion_of_pixels_is_a_mistake(tmp_path: Path) -> None:
    flag().save(tmp_path / "a.png", dpi=(1, 1000))
    assert open_photo(tmp_path / "a.png").proportion == pytest.approx(24 / 16)


def swapped_profile() -> bytes:
    """sRGB with the columns of red and green changed over, so that a red pixel means green."""
    profile = bytearray(ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes())
    count = struct.unpack(">I", profile[128:132])[0]
    tags = {bytes(profile[at : at + 4]): at for at in range(132, 132 + 12 * count, 12)}
    red, green = tags[b"rXYZ"] + 4, tags[b"gXYZ"] + 4
    profile[red : red + 8], profile[green : green + 8] = (
        profile[green : green + 8],
        profile[red : red + 8],
    )
    return bytes(profile)


@pytest.mark.parametrize("mode", ["RGB", "RGBA"])
def test_colours_are_those_of_the_pictures_own_profile(tmp_path: Path, mode: str) -> None:
    image = Image.new(mode, (4, 4), (255, 0, 0))
    image.save(tmp_path / "a.png", icc_profile=swapped_profile())
    assert opened(tmp_path / "a.png")[0, 0, :3] == pytest.approx((0, 255, 0), abs=2)


@pytest.mark.parametrize("mode", ["RGB", "RGBA", "L", "P"])
def test_a_broken_profile_is_passed_over(tmp_path: Path, mode: str) -> None:
    flag(mode).save(tmp_path / "a.png", icc_profile=b"not a profile")
    assert opened(tmp_path / "a.png").shape[:2] == (16, 24)


@pytest.mark.parametrize("name", ["a.gif", "a.webp", "a.png", "a.tif"])
def test_of_several_pictures_the_first(tmp_path: Path, name: str) -> None:
    others = [Image.new("RGB", (24, 16), colour) for colour in ("blue", "white")]
    flag().save(tmp_path / name, save_all=True, append_images=others)
    one = open_photo(tmp_path / name)
    assert one.pictures == 3
    assert joined(one, 5)[8, 3] == pytest.approx(RED, abs=8)


def header(width: int, height: int) -> bytes:
    """A PNG that says it is so large, and has next to nothing in it."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        check = zlib.crc32(kind + data)
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", check)

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    parts = chunk(b"IHDR", head), chunk(b"IDAT", zlib.compress(b"")), chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + b"".join(parts)


NO_PICTURE = "this is not a picture that can be read; open it in a drawing program and save it "
DAMAGED = "this picture is damaged, or a part of it is missing; open it in a drawing program and "
LARGE = "this picture has more than 150 million pixels; make it smaller: "


@pytest.mark.filterwarnings("error")
@pytest.mark.parametrize(
    ("name", "content", "message"),
    [
        ("empty.png", b"", NO_PICTURE),
        ("text.jpg", b"hello", NO_PICTURE),
        ("drawing.svg", b'<svg xmlns="http://www.w3.org/2000/svg"/>', NO_PICTURE),
        ("page.eps", b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n", NO_PICTURE),
        ("header.png", header(9, 9)[:30], NO_PICTURE),
        ("hollow.png", header(9, 9), DAMAGED),
        ("large.png", header(15_000, 10_001), LARGE),
        ("bomb.png", header(60_000, 60_000), LARGE),
    ],
)
def test_what_is_no_picture(tmp_path: Path, name: str, content: bytes, message: str) -> None:
    path = tmp_path / name
    path.write_bytes(content)
    with pytest.raises(SourceError) as raised:
        open_photo(path)
    (problem,) = raised.value.problems
    assert str(problem).startswith(f"{path}: {message}")


@pytest.mark.parametrize("name", ["a.png", "a.jpg", "a.gif", "a.webp", "a.bmp", "a.tif"])
@pytest.mark.parametrize("part", [0.3, 0.6, 0.9])
def test_a_picture_cut_short(tmp_path: Path, name: str, part: float) -> None:
    rng = np.random.default_rng(1)
    image = Image.fromarray(rng.integers(0, 256, (60, 80, 3)).astype(np.uint8))
    image.save(tmp_path / name)
    whole = (tmp_path / name).read_bytes()
    (tmp_path / name).write_bytes(whole[: int(part * len(whole))])
    with pytest.raises(SourceError):
        open_photo(tmp_path / name)


def test_numbers_that_are_no_colours(tmp_path: Path) -> None:
    Image.fromarray(np.ones((3, 3), np.float32)).save(tmp_path / "a.tif")
    with pytest.raises(SourceError, match="has numbers for other programs"):
        open_photo(tmp_path / "a.tif")


def test_a_call_that_names_no_picture(tmp_path: Path) -> None:
    with pytest.raises(UsageError, match="there is no such picture"):
        open_photo(tmp_path / "none.png")
    with pytest.raises(UsageError, match="this is a folder"):
        open_photo(tmp_path)
    with pytest.raises(UsageError, match="there is no such picture"):
        open_photo(tmp_path / ("a" * 5000))


def test_a_very_large_jpeg_is_unpacked_smaller(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    flag().resize((240, 160)).save(tmp_path / "a.jpg")
    monkeypatch.setattr(photo, "_LARGE_JPEG", 10_000)
    one = open_photo(tmp_path / "a.jpg")
    assert (one.width, one.height) == (120, 80)
    assert one.proportion == pytest.approx(1.5)
    assert joined(one, 50)[40, 20] == pytest.approx(RED, abs=4)
