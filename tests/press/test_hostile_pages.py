"""Pages that would fetch, overflow or exhaust are refused, quickly and without a traceback."""

from __future__ import annotations

import base64
import struct
import zlib

import pytest
from svg_books import book

from publisher.errors import TemplateError
from publisher.press import print_book


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
        "data:image/png;base64,R0lGODlhAQABAAAAACw=",
        png(4, 4, b"not deflate at all"),
        png(0, 4, zlib.compress(b"")),
        png(4, 4, zlib.compress(bytes(3))),
    ],
)
def test_a_damaged_picture_is_an_error(link: str) -> None:
    with pytest.raises(TemplateError, match="an image"):
        print_book(book(f'<image href="{link}" width="9" height="9"/>'))


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
