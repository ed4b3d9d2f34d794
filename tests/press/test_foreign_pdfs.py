"""PDFs that other programs made, whole and damaged: stamped and laid on sheets, or refused.

Made with qpdf (through pikepdf) and Pillow; looked at with pdfium.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable

import pikepdf
import pypdfium2
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pikepdf import Array, Dictionary, Name
from PIL import Image, ImageChops

from publisher.errors import SourceError
from publisher.press import Stamper, impose, page_pictures, print_book
from tests.support.svg_books import RICH, numbered

PAGES = 3


def saved(document: pikepdf.Pdf, **how: object) -> bytes:
    output = io.BytesIO()
    document.save(output, **how)
    return output.getvalue()


def blocks(change: Callable[[pikepdf.Pdf], None], **how: object) -> bytes:
    """Three pages 200 x 300 pt with a black block each, 20 pt from the left and the lower edge."""
    document = pikepdf.new()
    for _ in range(PAGES):
        page = document.add_blank_page(page_size=(200, 300))
        page.Contents = document.make_stream(b"20 120 40 60 re f")
    change(document)
    return saved(document, **how)


def as_it_is(document: pikepdf.Pdf) -> None:
    """A content stream that qpdf writes without any entry but its length."""


def nothing_drawn(document: pikepdf.Pdf) -> None:
    del document.pages[1].Contents


def several_streams(document: pikepdf.Pdf) -> None:
    parts = [document.make_stream(part) for part in (b"20 120 40", b"60 re", b"f")]
    document.pages[1].Contents = Array(parts)


def unbalanced(document: pikepdf.Pdf) -> None:
    document.pages[1].Contents = document.make_stream(b"q q 20 120 40 60 re f 1 0 0 1 99 99 cm")


def inherited(document: pikepdf.Pdf) -> None:
    pages = document.Root.Pages
    pages.MediaBox = Array([0, 0, 200, 300])
    pages.Resources = Dictionary(XObject=Dictionary())
    for page in document.pages:
        del page.MediaBox
        if "/Resources" in page:
            del page.Resources


def shared_resources(document: pikepdf.Pdf) -> None:
    resources = document.make_indirect(Dictionary(ProcSet=Array([Name.PDF])))
    for page in document.pages:
        page.Resources = resources


def corners_the_other_way(document: pikepdf.Pdf) -> None:
    for page in document.pages:
        page.MediaBox = Array([200, 300, 0, 0])


CHANGES = [
    as_it_is,
    nothing_drawn,
    several_streams,
    unbalanced,
    inherited,
    shared_resources,
    corners_the_other_way,
]
HOW: list[dict[str, object]] = [
    {"object_stream_mode": pikepdf.ObjectStreamMode.disable, "compress_streams": False},
    {"object_stream_mode": pikepdf.ObjectStreamMode.generate},
]


def words(pdf: bytes) -> list[str]:
    return [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf)]


def without_foot(picture: Image.Image) -> Image.Image:
    """A page at 72 dpi without the 45 pt at its foot where the line may stand."""
    return picture.crop((0, 0, picture.width, picture.height - 45))


@pytest.mark.parametrize("how", HOW, ids=["table", "packed"])
@pytest.mark.parametrize("change", CHANGES, ids=lambda change: change.__name__)
def test_any_page_is_stamped_and_looks_as_before(
    change: Callable[[pikepdf.Pdf], None], how: dict[str, object]
) -> None:
    pdf = blocks(change, **how)
    copy = Stamper(pdf).copy("Maren Weir", "1")
    assert pikepdf.open(io.BytesIO(copy)).check_pdf_syntax() == []
    assert words(copy) == ["Copy for Maren Weir, order 1"] * PAGES
    for before, after in zip(page_pictures(pdf, 72), page_pictures(copy, 72), strict=True):
        difference = ImageChops.difference(without_foot(before), without_foot(after))
        assert difference.getbbox() is None


@pytest.mark.parametrize("how", HOW, ids=["table", "packed"])
@pytest.mark.parametrize("change", CHANGES, ids=lambda change: change.__name__)
def test_any_page_is_laid_on_sheets_at_full_size(
    change: Callable[[pikepdf.Pdf], None], how: dict[str, object]
) -> None:
    sheets = impose(blocks(change, **how), "booklet", "a4")
    assert pikepdf.open(io.BytesIO(sheets)).check_pdf_syntax() == []
    front, back = page_pictures(sheets, 72)
    fold, below = 842 / 2, (595.28 - 300) / 2
    # pages 3 and 1 in front, page 2 at the back, on the left
    for sheet, on_right in ((front, False), (front, True), (back, False)):
        left = fold + 20 if on_right else fold - 200 + 20
        bottom = 595.28 - below - 120
        inside = sheet.getpixel((round(left + 20), round(bottom - 30)))
        drawn = change is not nothing_drawn or sheet is front
        assert inside == ((0, 0, 0) if drawn else (255, 255, 255))
        for x, y in ((left - 5, bottom - 30), (left + 45, bottom - 30), (left + 20, bottom + 5)):
            assert sheet.getpixel((round(x), round(y))) == (255, 255, 255)


@pytest.mark.parametrize("turn", [0, 90, 180, 270])
def test_turned_pages_lie_on_sheets_as_readers_show_them(turn: int) -> None:
    def turned(document: pikepdf.Pdf) -> None:
        for page in document.pages:
            page.Rotate = turn

    pdf = blocks(turned)
    (page, *_), (sheet, *_) = page_pictures(pdf, 72), page_pictures(impose(pdf, "two-up", "a3"), 72)
    shown = ImageChops.invert(page.convert("L")).getbbox()
    half = sheet.crop((0, 0, sheet.width // 2, sheet.height))
    found = ImageChops.invert(half.convert("L")).getbbox()
    assert shown and found
    left, top = (half.width - page.width) / 2, (half.height - page.height) / 2
    moved = (shown[0] + left, shown[1] + top, shown[2] + left, shown[3] + top)
    assert found == pytest.approx(moved, abs=1.5)


def test_a_picture_that_fills_the_page_stays_to_the_pixel() -> None:
    noise = [Image.effect_noise((200, 300), 80).convert("RGB") for _ in range(2)]
    output = io.BytesIO()
    noise[0].save(output, "PDF", save_all=True, append_images=noise[1:], resolution=72)
    pdf = output.getvalue()
    copy = Stamper(pdf).copy("Maren")
    for before, after in zip(page_pictures(pdf, 72), page_pictures(copy, 72), strict=True):
        assert ImageChops.difference(without_foot(before), without_foot(after)).getbbox() is None


def test_what_a_file_says_of_itself_and_its_version_stay() -> None:
    def described(document: pikepdf.Pdf) -> None:
        document.docinfo["/Title"] = "Läufer"
        document.docinfo["/Author"] = "R. Weir"

    pdf = blocks(described)
    with pikepdf.open(io.BytesIO(Stamper(pdf).copy("Maren"))) as copy:
        assert (str(copy.docinfo["/Title"]), str(copy.docinfo["/Author"])) == ("Läufer", "R. Weir")
    with pikepdf.open(io.BytesIO(impose(pdf, "booklet"))) as sheets:
        assert str(sheets.docinfo["/Title"]).startswith("Läufer – ")
        assert str(sheets.docinfo["/Author"]) == "R. Weir"


def locked(**keys: object) -> bytes:
    with pikepdf.open(io.BytesIO(print_book(numbered(2)))) as document:
        return saved(document, encryption=pikepdf.Encryption(**keys))


@pytest.mark.parametrize("cipher", [4, 6])
def test_a_file_that_asks_for_a_password_is_told(cipher: int) -> None:
    for work in (Stamper, lambda pdf: impose(pdf, "booklet")):
        with pytest.raises(SourceError, match="locked by a password; unlock it first"):
            work(locked(user="reed", owner="weir", R=cipher))


def whole(pdf: bytes) -> int:
    """How many pages pdfium finds in a file; -1 if it can't read it."""
    try:
        return len(pypdfium2.PdfDocument(pdf))
    except pypdfium2.PdfiumError:
        return -1


FOREIGN = {
    "table": blocks(as_it_is, **HOW[0]),
    "packed": blocks(several_streams, **HOW[1]),
    "ours": print_book(RICH),
}


@pytest.mark.parametrize("name", FOREIGN)
@pytest.mark.parametrize(
    "damaged",
    [
        lambda pdf: b"From: weir\r\n\r\n" + pdf,
        lambda pdf: pdf + b"\r\n<html></html>" * 50,
        lambda pdf: re.sub(rb"startxref\s+\d+", b"startxref\n7", pdf),
        lambda pdf: pdf.replace(b"%PDF-1.7", b"%PDF-9.9"),
    ],
    ids=["mail before it", "a page after it", "its table is not where it says", "its version"],
)
def test_what_happens_to_files_on_their_way_is_mended(
    name: str, damaged: Callable[[bytes], bytes]
) -> None:
    pdf = FOREIGN[name]
    copy = Stamper(damaged(pdf)).copy("Maren")
    assert pikepdf.open(io.BytesIO(copy)).check_pdf_syntax() == []
    assert whole(copy) == whole(pdf)
    assert all("Copy for Maren" in page for page in words(copy))


@pytest.mark.parametrize("name", FOREIGN)
@settings(max_examples=60, deadline=None)
@given(data=st.data())
def test_a_damaged_file_is_refused_or_keeps_all_its_pages(name: str, data: st.DataObject) -> None:
    """Nothing but a SourceError is raised, whatever byte is wrong, and no page goes missing that
    another reader still finds."""
    pdf = bytearray(FOREIGN[name])
    for _ in range(data.draw(st.integers(1, 8))):
        pdf[data.draw(st.integers(0, len(pdf) - 1))] = data.draw(st.integers(0, 255))
    cut = data.draw(st.sampled_from([len(pdf)] * 5 + [len(pdf) // 2, len(pdf) - 30]))
    damaged = bytes(pdf[:cut])
    for work in (lambda: Stamper(damaged).copy("Maren"), lambda: impose(damaged, "two-up")):
        try:
            made = work()
        except SourceError as error:
            assert str(error).startswith("PDF: ")
        else:
            assert whole(made) > 0
