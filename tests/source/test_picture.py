"""A chart given as a PNG: one pixel a knot, in the exact colours of the pattern."""

from __future__ import annotations

import io
import os
import struct
import zlib
from pathlib import Path

import pytest
from PIL import Image

from publisher.errors import Place, SourceError
from publisher.model.pattern import ChartPiece
from publisher.source import read_pattern
from publisher.source.mirror import for_left_hand

TOML = """\
format = 1
title = "Reed Warbler"
version = "1.0"

[colours.N]
name = "night navy"
srgb = "#1b2136"
yarn = "cotton"

[colours.W]
name = "chalk"
srgb = "#fdf8ec"
yarn = "cotton"

[yarns.cotton]
name = "cotton"
diameter_mm = 3
grams_per_metre = 4.5

[[pieces]]
id = "panel"
chart_file = "reed.png"
"""
NAVY, CHALK, RED = (0x1B, 0x21, 0x36), (0xFD, 0xF8, 0xEC), (255, 0, 0)
CELLS = ("NNNW", "NWWN", "NNNN")


def picture(cells: tuple[str, ...] = CELLS) -> Image.Image:
    image = Image.new("RGB", (len(cells[0]), len(cells)))
    image.putdata([{"N": NAVY, "W": CHALK, "R": RED}[sign] for row in cells for sign in row])
    return image


def as_png(image: Image.Image, **options: object) -> bytes:
    file = io.BytesIO()
    image.save(file, "PNG", **options)
    return file.getvalue()


def read(folder: Path, data: bytes, toml: str = TOML) -> ChartPiece:
    (folder / "reed.png").write_bytes(data)
    (folder / "reed.toml").write_text(toml)
    (piece,) = read_pattern(folder / "reed.toml").pieces
    return piece


def problems(folder: Path, data: bytes, toml: str = TOML) -> list[str]:
    with pytest.raises(SourceError) as caught:
        read(folder, data, toml)
    return [str(problem).replace(f"{folder}/", "") for problem in caught.value.problems]


@pytest.mark.parametrize("mode", ["RGB", "RGBA", "P", "P8", "P-with-clear", "interlaced"])
def test_every_way_to_save_it(tmp_path: Path, mode: str) -> None:
    image = picture()
    match mode:
        case "RGBA":
            image = image.convert("RGBA")
        case "P":
            image = image.quantize(2)
        case "P8":
            image = image.quantize(200)
        case "P-with-clear":
            image = image.quantize(3)
            image.info["transparency"] = 2
    piece = read(tmp_path, as_png(image))
    assert piece.cells == CELLS
    assert piece.place == Place(str(tmp_path / "reed.png"))


def test_the_picture_is_one_of_the_files(tmp_path: Path) -> None:
    read(tmp_path, as_png(picture()))
    pattern = read_pattern(tmp_path / "reed.toml")
    assert pattern.files == (pattern.path, str(tmp_path / "reed.png"))


def test_a_picture_may_lie_in_a_folder_below(tmp_path: Path) -> None:
    (tmp_path / "pictures").mkdir()
    (tmp_path / "pictures" / "reed.png").write_bytes(as_png(picture()))
    toml = TOML.replace('"reed.png"', '"pictures/reed.png"')
    assert read(tmp_path, b"", toml).cells == CELLS


@pytest.mark.parametrize("there", ["Reed.PNG", "reeds.png"])
def test_a_misspelt_name_is_offered_as_it_is(tmp_path: Path, there: str) -> None:
    (tmp_path / there).write_bytes(as_png(picture()))
    (tmp_path / "warbler.toml").write_text(TOML)
    with pytest.raises(SourceError) as caught:
        read_pattern(tmp_path / "warbler.toml")
    assert [problem.hint for problem in caught.value.problems] == [f"did you mean {there}?"]


def test_strange_colours_are_told_once_each(tmp_path: Path) -> None:
    image = picture(("RNNW", "NWRR"))
    image.putpixel((1, 1), (0xFD, 0xF8, 0xED))
    assert problems(tmp_path, as_png(image)) == [
        "reed.png: row 1, cord 1 is #ff0000, which is none of the [colours], as on 2 knots more; "
        "paint it #1b2136, night navy (N), or add it to the [colours]",
        "reed.png: row 2, cord 2 is #fdf8ed, which is none of the [colours]; "
        "paint it #fdf8ec, chalk (W), or add it to the [colours]",
    ]


def test_a_photograph_does_not_bring_a_thousand_lines(tmp_path: Path) -> None:
    image = Image.linear_gradient("L").convert("RGB")
    told = problems(tmp_path, as_png(image))
    assert len(told) == 7
    assert told[-1] == (
        "reed.png: 250 more colours, on 64,000 knots, are none of the [colours]; save it without "
        "smoothed edges (anti-aliasing), or let `publisher chart` make a chart of it"
    )


def test_see_through_pixels(tmp_path: Path) -> None:
    image = picture().convert("RGBA")
    image.putpixel((2, 1), (*NAVY, 0))
    image.putpixel((3, 2), (*NAVY, 254))
    assert problems(tmp_path, as_png(image)) == [
        "reed.png: row 2, cord 3 is see-through, as on 1 knot more; "
        "fill it: every knot has one full colour"
    ]


def test_two_colours_of_one_srgb(tmp_path: Path) -> None:
    toml = TOML.replace("#fdf8ec", "#1B2136")
    assert problems(tmp_path, as_png(picture()), toml) == [
        "reed.toml:12: colour W has the srgb of colour N; "
        "change one of them: the picture's pixels can't tell the two apart"
    ]


def test_one_srgb_twice_is_well_in_a_written_chart(tmp_path: Path) -> None:
    toml = TOML.replace("#fdf8ec", "#1B2136").replace('chart_file = "reed.png"', 'chart = "NW"')
    assert read(tmp_path, b"", toml).cells == ("NW",)


def test_a_wrong_srgb_brings_no_false_alarms(tmp_path: Path) -> None:
    toml = TOML.replace('"#fdf8ec"', '"white"')
    (problem,) = problems(tmp_path, as_png(picture()), toml)
    assert problem.startswith('reed.toml:12: `srgb` can\'t be "white"')


DAMAGED = (
    "reed.png: this picture is damaged and can't be opened; "
    "save it again from your drawing program, as a PNG"
)
NO_PNG = "reed.png: this is not a PNG picture; save it again from your drawing program, as a PNG"


def chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))


def with_pixels(across: int, down: int, unit: int, before: bytes = b"IDAT") -> bytes:
    """The picture with so many pixels a unit (0: unknown, 1: metre), told before that chunk."""
    data = as_png(picture())
    at = data.index(before) - 4
    return data[:at] + chunk(b"pHYs", struct.pack(">IIB", across, down, unit)) + data[at:]


def header(columns: int, rows: int, depth: int = 8) -> bytes:
    """A PNG that promises a size and holds nothing."""

    sizes = struct.pack(">IIBBBBB", columns, rows, depth, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", sizes) + chunk(b"IEND", b"")


@pytest.mark.parametrize(
    ("data", "told"),
    [
        (b"", NO_PNG),
        (b"a drawing", NO_PNG),
        (as_png(picture())[:50], DAMAGED),
        (header(4, 3), DAMAGED),
        (header(0, 3), DAMAGED),
        (
            header(4, 3, 16),
            "reed.png: this picture has 16 bits a channel; save it with 8 bits a channel",
        ),
        (
            header(60_000, 60_000),
            "reed.png: the picture has 60,000 columns and 60,000 rows; the most are 2,000 columns, "
            "5,000 rows and 1,000,000 knots in all; make it one pixel a knot, "
            "or part the picture into several pieces",
        ),
    ],
)
def test_pictures_that_cannot_be_used(tmp_path: Path, data: bytes, told: str) -> None:
    assert problems(tmp_path, data) == [told]


@pytest.mark.parametrize(
    ("data", "proportion"),
    [
        (as_png(picture()), 1.0),
        (with_pixels(1, 1, 0), 1.0),
        (with_pixels(5, 7, 0), 1.4),
        (with_pixels(7, 5, 0), 5 / 7),
        (with_pixels(5_000, 7_000, 1), 1.4),
        (with_pixels(3, 2**31 - 1, 1), (2**31 - 1) / 3),
        (with_pixels(2**31 - 1, 3, 0), 3 / (2**31 - 1)),
        (with_pixels(2_835, 2_835, 1), 1.0),
        (with_pixels(0, 7, 0), 1.0),
        (with_pixels(5, 0, 1), 1.0),
        (with_pixels(0, 0, 1), 1.0),
        (with_pixels(5, 7, 2), 1.0),
        (with_pixels(5, 7, 0, before=b"IEND"), 1.0),
    ],
)
def test_the_shape_of_its_pixels(tmp_path: Path, data: bytes, proportion: float) -> None:
    """Exactly as it is said; square where nothing, or nothing that has a meaning, is said."""
    piece = read(tmp_path, data)
    assert piece.pixel_proportion == proportion
    assert piece.cells == CELLS


def test_a_chart_in_letters_has_no_pixels(tmp_path: Path) -> None:
    piece = read(tmp_path, b"", TOML.replace('chart_file = "reed.png"', 'chart = "NW"'))
    assert piece.pixel_proportion is None


def test_a_shape_that_is_cut_off(tmp_path: Path) -> None:
    data = as_png(picture())
    at = data.index(b"IDAT") - 4
    short = data[:at] + chunk(b"pHYs", b"\0\0\0\5") + data[at:]
    assert problems(tmp_path, short) == [DAMAGED]


def test_a_left_hand_works_from_the_same_picture(tmp_path: Path) -> None:
    read(tmp_path, with_pixels(5, 7, 0))
    (piece,) = for_left_hand(read_pattern(tmp_path / "reed.toml")).charts
    assert piece.pixel_proportion == 1.4


def test_other_kinds_of_picture(tmp_path: Path) -> None:
    file = io.BytesIO()
    picture().save(file, "JPEG")
    assert problems(tmp_path, file.getvalue()) == [NO_PNG]


@pytest.mark.parametrize("name", ["../reed.png", "/etc/hostname", "a/../../reed.png", "link.png"])
def test_pictures_outside_the_folder_are_not_opened(tmp_path: Path, name: str) -> None:
    inner = tmp_path / "patterns"
    inner.mkdir()
    (tmp_path / "reed.png").write_bytes(as_png(picture()))
    (inner / "link.png").symlink_to(tmp_path / "reed.png")
    told = problems(inner, b"", TOML.replace("reed.png", name))
    assert told == [
        f"reed.toml:22: chart_file {name}: it is not in the patterns folder; "
        "put the picture beside the pattern, and write its name alone"
    ]


def test_a_picture_is_not_unpacked_before_its_size_is_known(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("PIL.Image.open", lambda *a, **k: pytest.fail("unpacked"))
    problems(tmp_path, header(60_000, 60_000))


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.png")
    told = problems(tmp_path, b"", TOML.replace("reed.png", "pipe.png"))
    assert told == [
        "reed.toml:22: chart_file pipe.png: this is a pipe or a device, not a file; "
        "put a file in its place, or name another"
    ]
