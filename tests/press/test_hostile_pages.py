"""Pages that would fetch, overflow or exhaust are refused, quickly and without a traceback."""

from __future__ import annotations

import base64
import contextlib
import os
import struct
import subprocess
import sys
import zlib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.errors import FontError, TemplateError
from publisher.press import print_book
from tests.support import svg_books
from tests.support.cairo_library import needs_cairo
from tests.support.svg_books import RICH, book


@pytest.mark.parametrize(
    "link",
    [
        "file:///etc/passwd",
        "picture.png",
        "http://localhost:1/a.png",
        "//localhost/a.png",
        "data:image/svg+xml;base64,PHN2Zy8+",
        "data:image/jpeg;base64,AAAA",
        "",
    ],
)
def test_nothing_is_fetched(link: str) -> None:
    with pytest.raises(TemplateError, match="an image leads to"):
        print_book(book(f'<image href="{link}" width="9" height="9"/>'))


def chunk(kind: bytes, data: bytes) -> bytes:
    check = struct.pack(">I", zlib.crc32(kind + data))
    return struct.pack(">I", len(data)) + kind + data + check


def png(width: int, height: int, data: bytes) -> str:
    header = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    whole = b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", data)
    return "data:image/png;base64," + base64.b64encode(whole + chunk(b"IEND", b"")).decode()


def test_a_picture_too_large_is_not_opened() -> None:
    bomb = png(16000, 16000, zlib.compress(bytes(1000)))
    with pytest.raises(TemplateError, match="16000 × 16000 pixels"):
        print_book(book(f'<image href="{bomb}" width="9" height="9"/>'))


@pytest.mark.parametrize(
    "link",
    [
        "data:image/png;base64,!!!!",
        "data:image/png;base64,é",
        "data:image/png;base64,A",
        "data:image/png;base64,R0lGODlhAQABAAAAACw=",
        png(4, 4, b"not deflate at all"),
        png(0, 4, zlib.compress(b"")),
        png(4, 4, zlib.compress(bytes(3))),
    ],
)
def test_a_damaged_picture_is_an_error(link: str) -> None:
    with pytest.raises(TemplateError, match="an image"):
        print_book(book(f'<image href="{link}" width="9" height="9"/>'))


@needs_cairo
def test_gradients_that_lead_in_a_circle_are_an_error() -> None:
    body = (
        '<defs><linearGradient id="a" href="#b"/><linearGradient id="b" href="#a"/></defs>'
        '<rect width="9" height="9" fill="url(#a)"/>'
    )
    with pytest.raises(TemplateError, match="a gradient leads to"):
        print_book(book(body))


def test_a_clip_path_that_clips_itself_is_an_error() -> None:
    body = (
        '<defs><clipPath id="a"><g clip-path="url(#a)"><rect width="9" height="9"/></g>'
        '</clipPath></defs><rect clip-path="url(#a)" width="9" height="9"/>'
    )
    with pytest.raises(TemplateError):
        print_book(book(body))


def test_text_in_a_clip_path_can_not_bring_in_another_font() -> None:
    body = (
        '<defs><clipPath id="a"><g><text x="1" y="9">a</text></g></clipPath></defs>'
        '<rect clip-path="url(#a)" width="9" height="9"/>'
    )
    with pytest.raises(TemplateError, match="a clipPath holds a <text>"):
        print_book(book(body))


def test_a_very_long_line_is_drawn_in_linear_time() -> None:
    points = " ".join(f"{index % 200} {index % 290}" for index in range(60_000))
    pdf = print_book(book(f'<path d="M0 0L{points}" fill="none" stroke="#000"/>'))
    assert len(pdf) > 10_000


def test_any_depth_that_is_read_is_drawn() -> None:
    print_book(book("<g>" * 148 + '<text x="1" y="9">a</text>' + "</g>" * 148))


@pytest.mark.parametrize(
    "clip", ['<circle cx="9" cy="9"/>', '<rect width="9" height="9" x="999"/>']
)
def test_what_is_clipped_away_whole_is_simply_not_seen(clip: str) -> None:
    body = (
        f'<text x="9" y="9">seen</text><defs><clipPath id="a">{clip}</clipPath></defs>'
        '<g clip-path="url(#a)"><text x="9" y="9" data-tag="H1">hidden</text></g>'
    )
    assert print_book(book(body)).startswith(b"%PDF")


def test_a_clip_with_a_number_that_is_none_is_told() -> None:
    body = (
        '<defs><clipPath id="a"><circle cx="9" cy="9" r="nan0"/></clipPath></defs>'
        '<g clip-path="url(#a)"><text x="9" y="9">a</text></g>'
    )
    with pytest.raises(TemplateError, match="r=“nan0” is not a number"):
        print_book(book(body))


@pytest.mark.skipif(sys.platform == "win32", reason="file sizes can't be limited there")
def test_printing_needs_no_room_on_any_disk() -> None:
    """A limit on the size of files, which a write meets like a full disk."""
    script = (
        "import resource, svg_books; from publisher.press import print_book\n"
        "resource.setrlimit(resource.RLIMIT_FSIZE, (0, 0))\n"
        "assert print_book(svg_books.RICH).startswith(b'%PDF')"
    )
    folder = str(Path(svg_books.__file__).parent)
    run = subprocess.run(
        [sys.executable, "-c", script],
        env={**os.environ, "PYTHONPATH": folder, "PYTHONDONTWRITEBYTECODE": "1"},
        capture_output=True,
    )
    assert run.returncode == 0, run.stderr


PAGE = RICH.pages[1].svg


@settings(max_examples=150, deadline=None)
@given(
    st.lists(
        st.tuples(
            st.integers(0, len(PAGE)),
            st.integers(0, 6),
            st.sampled_from(["", "<", ">", '"', "-", "9", "e9", ".", "nan", " ", "&", "g", "</g>"]),
        ),
        min_size=1,
        max_size=3,
    )
)
def test_a_page_spoilt_anywhere_is_printed_or_told(spoils: list[tuple[int, int, str]]) -> None:
    page = PAGE
    for at, length, put in spoils:
        page = page[:at] + put + page[at + length :]
    with contextlib.suppress(TemplateError, FontError):
        print_book(replace(RICH, pages=(replace(RICH.pages[0], frame=page),), bookmarks=()))


@settings(max_examples=150, deadline=None)
@given(
    st.sampled_from(
        ["x", "width", "d", "transform", "fill", "stroke-width", "stroke-dasharray", "opacity",
         "font-size", "points", "clip-path", "data-advance", "data-dest", "text-anchor", "viewBox"]
    ),
    st.text("0123456789.,-+eEMLHVCSQTAZmlhvcz()#%naiftrslosu /", max_size=16),
)  # fmt: skip
def test_any_attribute_with_any_value_is_drawn_or_told(name: str, value: str) -> None:
    shape = f'<g {name}="{value}"><path d="M1 1H9" stroke="#000" {name}="{value}"/></g>'
    if name == "d":
        shape = f'<path d="M1 1{value}" stroke="#000"/>'
    body = f'{shape}<text {name}="{value}">a</text><polygon {name}="{value}"/>'
    body += f'<rect height="9" {name}="{value}"/>'
    if name == "data-dest":
        body = f'<text x="1" y="9" data-dest="{value}">a</text>'
    with contextlib.suppress(TemplateError, FontError):
        print_book(book(body))
