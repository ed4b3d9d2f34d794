"""Buyers' copies: the line is there, in its place, and nothing else has changed."""

from __future__ import annotations

import dataclasses
import io
import re
from collections.abc import Iterator

import pikepdf
import pypdf
import pypdfium2
import pytest
from fontTools.ttLib import TTFont
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import ImageChops

from publisher.errors import SourceError
from publisher.fonts import font_file, missing_characters, text_width_mm
from publisher.press import Stamper, page_pictures, print_book
from publisher.press.finished.stamping import printable
from tests.support.svg_books import RICH, book

PT_PER_MM = 72 / 25.4
SIZES = {(210.0, 297.0): 18.0, (215.9, 279.4): 20.95, (100.0, 150.0): 10.0}
"""Papers, and how far the text, or on a small page the line, is from their side."""


@pytest.fixture(scope="module")
def rich() -> bytes:
    return print_book(RICH)


@pytest.fixture(scope="module")
def stamper(rich: bytes) -> Stamper:
    return Stamper(rich)


def words(pdf: bytes) -> list[str]:
    """The words of each page, as pdfium reads them."""
    return [page.get_textpage().get_text_range() for page in pypdfium2.PdfDocument(pdf)]


@pytest.mark.parametrize(
    ("buyer", "order", "line"),
    [
        ("Maren Weir", "RB-17", "Copy for Maren Weir, order RB-17"),
        ("Zoë O’Neill (née Ümit) \\ Sons", "", "Copy for Zoë O’Neill (née Ümit) \\ Sons"),
        ("Łucja Wójcik", "8", "Copy for Łucja Wójcik, order 8"),
        ("Ελένη", "8", "Copy for Ελένη, order 8"),
        ("李 Ning", "8", "Copy for Li Ning, order 8"),
        ("  tabs\tand\nlines ", " ", "Copy for tabs and lines"),
        ("Zoe\u0308 %s {order}", "%d", "Copy for Zoë %s {order}, order %d"),
    ],
)
def test_every_page_names_the_buyer(stamper: Stamper, buyer: str, order: str, line: str) -> None:
    copy = stamper.copy(buyer, order)
    assert pikepdf.open(io.BytesIO(copy)).check_pdf_syntax() == []
    for page in words(copy):
        assert line in page.splitlines()
    for page in pypdf.PdfReader(io.BytesIO(copy)).pages:
        assert line in page.extract_text()


USUAL = [chr(code) for code in range(0x21, 0x180) if chr(code).isprintable()]
"""ASCII, Latin-1 and Latin Extended-A: most of Europe."""


def test_usual_letters_are_in_the_prepared_font_and_others_come_with_their_own(
    stamper: Stamper,
) -> None:
    usual = [letter for letter in USUAL if not missing_characters(letter, "sans")]
    assert len(usual) > 300
    for at in range(0, len(usual), 40):
        name = "".join(usual[at : at + 40])
        copy = stamper.copy(name)
        assert f"Copy for {printable(name)}" in words(copy)[0]
        assert len(copy) - len(stamper.copy("")) < 800
    greek = stamper.copy("Ελένη")
    assert 2000 < len(greek) - len(stamper.copy("Elene")) < 8000


@pytest.mark.parametrize("name", ["Łucja fi ffl Å", "Ελένη Анна"])
def test_every_glyph_of_a_line_is_in_its_font_under_its_number_and_with_its_width(
    stamper: Stamper, name: str
) -> None:
    """A glyph that the subset lacks would print as nothing, and still be read aright."""
    with pikepdf.open(io.BytesIO(stamper.copy(name))) as pdf:
        form = pdf.pages[0].Resources.XObject["/BuyerLine"]
        (inner,) = form.Resources.Font["/sans"].DescendantFonts
        program = TTFont(io.BytesIO(inner.FontDescriptor.FontFile2.read_bytes()))
        widths = {}
        for first, row in zip(list(inner.W)[::2], list(inner.W)[1::2], strict=True):
            widths |= {int(first) + at: float(width) for at, width in enumerate(row)}
        shown = b"".join(codes_of(form))
    glyphs = [int.from_bytes(shown[at : at + 2]) for at in range(0, len(shown), 2)]
    assert len(glyphs) > len(name)
    whole = TTFont(font_file("sans"))
    for glyph in set(glyphs):
        assert program["hmtx"].metrics[program.getGlyphName(glyph)][0] == round(
            whole["hmtx"].metrics[whole.getGlyphName(glyph)][0]
        )
        assert widths[glyph] == pytest.approx(
            whole["hmtx"].metrics[whole.getGlyphName(glyph)][0], abs=0.01
        )
        drawn = program["glyf"][program.getGlyphName(glyph)].numberOfContours
        assert drawn == whole["glyf"][whole.getGlyphName(glyph)].numberOfContours


def codes_of(form: pikepdf.Stream) -> Iterator[bytes]:
    """The strings that a form shows."""
    for operands, operator in pikepdf.parse_content_stream(form):
        if str(operator) == "Tj":
            yield bytes(operands[0])
        elif str(operator) == "TJ":
            yield from (bytes(part) for part in operands[0] if isinstance(part, pikepdf.String))


def line_box_mm(before: bytes, after: bytes, page: int = 0) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of what a stamp adds to a page."""
    pictures = [page_pictures(pdf, dpi=254)[page] for pdf in (before, after)]
    box = ImageChops.difference(*pictures).getbbox()
    assert box is not None
    left, top, right, bottom = (side / 10 for side in box)  # ten pixels a mm
    return left, top, right, bottom


@pytest.mark.parametrize("page", [0, 1])
@pytest.mark.parametrize("name", ["Lucja Wojcik, Lodz", "Łucja Wójcik, Łódź"])
def test_the_line_is_a_second_line_of_the_footer(
    stamper: Stamper, rich: bytes, name: str, page: int
) -> None:
    left, top, right, bottom = line_box_mm(rich, stamper.copy(name), page)
    assert left == pytest.approx(18, abs=0.4)
    assert right - left == pytest.approx(text_width_mm(f"Copy for {name}", "sans", 7.5), abs=0.6)
    assert top > 284.6 and bottom < 288


def test_between_words_there_is_nothing_but_paper(rich: bytes, stamper: Stamper) -> None:
    copy = page_pictures(stamper.copy("-" + " -" * 20), dpi=254)[0].convert("L")
    foot = copy.crop((180, 2840, 1000, 2862))  # above where the dashes lie
    start = round(text_width_mm("Copy for ", "sans", 7.5) * 10) + 5
    assert foot.crop((start, 0, foot.width, 10)).getextrema() == (255, 255)


def test_a_long_name_is_set_smaller_and_then_cut(stamper: Stamper, rich: bytes) -> None:
    for name in ("Friends of the Reedbank " * 5, "Friends of the Reedbank " * 40):
        copy = stamper.copy(name)
        box = ImageChops.difference(
            page_pictures(rich, dpi=127)[0], page_pictures(copy, dpi=127)[0]
        ).getbbox()
        assert box is not None and box[0] / 5 >= 17.7 and box[2] / 5 <= 192.3
    assert re.search("Reed.*…", words(stamper.copy("Friends of the Reedbank " * 40))[0])


@pytest.mark.parametrize(("beyond", "cut"), [(-0.2, False), (0.2, True)])
def test_a_name_is_cut_only_where_it_would_be_smaller_than_five_points(
    stamper: Stamper, beyond: float, cut: bool
) -> None:
    """174 mm is the text's measure; a letter at 5 pt is wider than these 0.2 mm."""
    name = "Reed " * 200
    while text_width_mm(f"Copy for {name}", "sans", 5) > 174 + beyond:
        name = name[:-1]
    while text_width_mm(f"Copy for {name}.", "sans", 5) <= 174 + beyond:
        name += "."
    name += "." * cut
    page = pypdfium2.PdfDocument(stamper.copy(name))[0].get_textpage()
    (line,) = (line for line in page.get_text_range().splitlines() if line.startswith("Copy for"))
    assert line.endswith("…") == cut
    assert (line == f"Copy for {name}") != cut
    text = page.get_text_range()
    at = text.index("Copy for")
    left = page.get_charbox(at, loose=True)[0]
    right = page.get_charbox(at + len(line) - 1, loose=True)[2]
    assert 172 < (right - left) / PT_PER_MM <= 174.1


def test_a_copy_is_the_prepared_file_and_a_few_hundred_bytes(stamper: Stamper) -> None:
    one, two = stamper.copy("Maren Weir", "1"), stamper.copy("Jonas Sedge", "2")
    prepared = one[: one.index(b"%%EOF\n") + 6]
    assert two.startswith(prepared)
    assert len(one) - len(prepared) < 800 and len(two) - len(prepared) < 800


def test_copies_of_one_buyer_are_alike_and_of_two_have_two_identities(stamper: Stamper) -> None:
    assert stamper.copy("Maren Weir", "1") == stamper.copy("Maren Weir", "1")
    identities = []
    for order in ("1", "2"):
        with pikepdf.open(io.BytesIO(stamper.copy("Maren Weir", order))) as pdf:
            identities.append([bytes(part) for part in pdf.trailer.ID])
    assert identities[0][0] == identities[1][0]
    assert identities[0][1] != identities[1][1]


def test_another_process_prepares_the_same(rich: bytes, stamper: Stamper) -> None:
    assert Stamper(rich).copy("Maren Weir") == stamper.copy("Maren Weir")


@pytest.mark.parametrize("buyer", ["Maren Weir", "Łucja Wójcik"])
def test_tags_links_bookmarks_and_title_stay(stamper: Stamper, rich: bytes, buyer: str) -> None:
    with pikepdf.open(io.BytesIO(stamper.copy(buyer))) as copy:
        with pikepdf.open(io.BytesIO(rich)) as plain:
            for name in ("StructTreeRoot", "Outlines", "Names", "PageLabels", "Metadata", "Lang"):
                assert f"/{name}" in copy.Root
            assert len(copy.Root.StructTreeRoot.K[0].K) == len(plain.Root.StructTreeRoot.K[0].K)
            assert copy.Root.Metadata.read_bytes() == plain.Root.Metadata.read_bytes()
            assert str(copy.docinfo["/Title"]) == str(plain.docinfo["/Title"])
        for page in copy.pages:
            depth = 0
            for operands, operator in pikepdf.parse_content_stream(page):
                if str(operator) in ("BDC", "BMC"):
                    depth += 1
                    last = str(operands[0])
                elif str(operator) == "EMC":
                    depth -= 1
                elif str(operator) == "Do" and str(operands[0]) == "/BuyerLine":
                    assert (depth, last) == (1, "/Artifact")
            form = page.Resources.XObject["/BuyerLine"]
            assert b"BDC" not in form.read_bytes() and b"BMC" not in form.read_bytes()


def test_the_words_around_the_name_are_the_writers(rich: bytes) -> None:
    copy = Stamper(rich, "Für {buyer}", " · Nr. {order}").copy("Maren", "7")
    assert "Für Maren · Nr. 7" in words(copy)[0]


def test_pages_of_different_sizes_each_have_it_flush_with_their_text() -> None:
    made = {size: book("<g/>", width_mm=size[0], height_mm=size[1]) for size in SIZES}
    pages = [page for one in made.values() for page in one.pages]
    pdf = print_book(dataclasses.replace(RICH, pages=tuple(pages), bookmarks=()))
    copy = Stamper(pdf).copy("Maren")
    for page, side_mm in zip(pypdfium2.PdfDocument(copy), SIZES.values(), strict=True):
        left, bottom, *_ = page.get_textpage().get_charbox(0, loose=True)
        assert left / PT_PER_MM == pytest.approx(side_mm, abs=0.05)
        assert 8.5 < bottom / PT_PER_MM < 10


def test_a_stamped_copy_can_be_stamped_and_read_again(stamper: Stamper) -> None:
    again = Stamper(stamper.copy("Maren"), "Lent to {buyer}").copy("Jonas")
    assert pikepdf.open(io.BytesIO(again)).check_pdf_syntax() == []
    assert "Lent to Jonas" in words(again)[0]


def test_what_is_no_pdf_is_told() -> None:
    with pytest.raises(SourceError):
        Stamper(b"not a pdf")


@settings(max_examples=60, deadline=None)
@given(st.text(max_size=30), st.text(max_size=8))
def test_any_name_makes_a_copy_that_can_be_read(buyer: str, order: str) -> None:
    copy = _SHARED.copy(buyer, order)
    with pikepdf.open(io.BytesIO(copy)) as pdf:
        assert pdf.check_pdf_syntax() == []


@given(st.text())
def test_what_is_printable_stays_so(text: str) -> None:
    once = printable(text)
    assert printable(once) == once
    assert "\n" not in once


_SHARED = Stamper(print_book(book('<text x="20" y="30">Reeds</text>')))
