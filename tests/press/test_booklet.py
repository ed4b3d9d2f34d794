"""A printed book: its pages, its places, its words in order; the same bytes anywhere."""

from __future__ import annotations

import datetime
import io
import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pikepdf
import pypdf
import pypdfium2
import pytest

from publisher.errors import FontError, TemplateError
from publisher.model.book import Book, Bookmark, Page
from publisher.press import page_pictures, print_book
from tests.support import svg_books
from tests.support.svg_books import RICH, book, svg

PT_PER_MM = 72 / 25.4


@pytest.fixture(scope="module")
def rich() -> bytes:
    return print_book(RICH)


def test_qpdf_finds_nothing_wrong(rich: bytes) -> None:
    assert pikepdf.open(io.BytesIO(rich)).check_pdf_syntax() == []


def test_pages_have_their_papers_size_and_label() -> None:
    a4, letter = Page(svg(""), 210, 297, "i"), Page(svg("", 215.9, 279.4), 215.9, 279.4, "12")
    reader = pypdf.PdfReader(
        io.BytesIO(print_book(replace(RICH, pages=(a4, letter), bookmarks=())))
    )
    sizes = [(float(page.mediabox.width), float(page.mediabox.height)) for page in reader.pages]
    assert sizes[0] == pytest.approx((595.276, 841.890), abs=0.001)
    assert sizes[1] == pytest.approx((612, 792), abs=0.001)
    assert reader.page_labels == ["i", "12"]


def test_document_information_says_what_the_book_says(rich: bytes) -> None:
    info = pypdf.PdfReader(io.BytesIO(rich)).metadata
    assert info is not None
    assert info.title == "Kingfisher & Reeds"
    assert info.author == "Reedbank Knot Room"
    assert info.subject == "A pattern for a knotted panel"
    assert info["/Keywords"] == "knots, reeds"
    assert info["/CreationDate"] == info["/ModDate"] == "D:20260901120000Z"


def test_dates_without_a_zone_are_utc_and_others_come_to_utc() -> None:
    plain = replace(RICH, date=datetime.datetime(2026, 9, 1, 12))
    east = datetime.timezone(datetime.timedelta(hours=3))
    moved = replace(RICH, date=datetime.datetime(2026, 9, 1, 15, tzinfo=east))
    assert print_book(plain) == print_book(moved) == print_book(RICH)


def top_of(target: Any) -> float:
    return float(target.top)


def test_every_link_leads_where_its_words_say(rich: bytes) -> None:
    reader = pypdf.PdfReader(io.BytesIO(rich))
    places = reader.named_destinations
    found = []
    for page in reader.pages:
        for reference in page.get("/Annots") or ():
            note = reference.get_object()
            assert note["/Subtype"] == "/Link"
            if "/A" in note:
                found.append((note["/Contents"], note["/A"]["/URI"]))
            else:
                target = places[note["/Dest"]]
                number = reader.get_destination_page_number(target)
                found.append((note["/Contents"], (number, round(297 - top_of(target) / PT_PER_MM))))
    assert found == [
        ("the chart", (1, 27)),
        ("web", "https://example.org/a?b=1&c='2'"),
        ("the top", (0, 25)),
    ]


def test_a_links_area_lies_on_its_words(rich: bytes) -> None:
    document = pypdfium2.PdfDocument(rich)
    words = document[0].get_textpage()
    note = pypdf.PdfReader(io.BytesIO(rich)).pages[0]["/Annots"][0].get_object()
    left, bottom, right, top = (float(side) for side in note["/Rect"])
    inside = words.get_text_bounded(left, bottom - 1, right, top + 1)
    assert inside.strip() == "the chart"


def test_every_bookmark_leads_to_its_page(rich: bytes) -> None:
    document = pypdfium2.PdfDocument(rich)
    found = [
        (mark.get_title(), mark.level, mark.get_dest().get_index()) for mark in document.get_toc()
    ]
    assert found == [("Kingfisher", 0, 0), ("The chart, é", 1, 1)]


def test_a_level_that_skips_one_is_the_next_deeper() -> None:
    marks = [Bookmark(f"{level}", "top", level) for level in (2, 1, 3, 3, 1, 2)]
    toc = pypdfium2.PdfDocument(print_book(replace(RICH, bookmarks=tuple(marks)))).get_toc()
    assert [(mark.get_title(), mark.level) for mark in toc] == [
        ("2", 0), ("1", 0), ("3", 1), ("3", 1), ("1", 0), ("2", 1),
    ]  # fmt: skip


def test_words_come_out_in_the_order_they_were_drawn(rich: bytes) -> None:
    wanted = [
        "Reedbank Knot Room",
        "Kingfisher",
        "See the chart before you begin.",
        "Words on the web too.",
        "A paragraph of two lines",
        "of text, no more.",
    ]
    by_pypdf = pypdf.PdfReader(io.BytesIO(rich)).pages[0].extract_text().splitlines()
    assert [line.strip() for line in by_pypdf[: len(wanted)]] == wanted
    by_pdfium = pypdfium2.PdfDocument(rich)[0].get_textpage().get_text_range().splitlines()
    assert [line.rstrip() for line in by_pdfium[: len(wanted)]] == wanted
    assert "navy 12 ½″ → 1⅛" in by_pdfium


def test_names_may_have_any_characters() -> None:
    name = "l'île \\ #1 (π)"
    body = (
        f'<text data-tag="P" data-dest="{name}" x="9" y="9">a</text>'
        f'<text data-tag="Link" data-href="#{name}" x="9" y="19">b</text>'
    )
    pdf = print_book(book(body, bookmarks=[Bookmark("« b » ’", name, 1)]))
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    note = reader.pages[0]["/Annots"][0].get_object()
    assert note["/Dest"] in reader.named_destinations
    assert pypdfium2.PdfDocument(pdf).get_toc().__next__().get_title() == "« b » ’"


def test_the_same_book_is_the_same_bytes(rich: bytes) -> None:
    assert print_book(RICH) == rich


def test_other_processes_hash_seeds_and_time_zones_make_the_same_bytes(rich: bytes) -> None:
    script = (
        "import hashlib, svg_books; from publisher.press import print_book; "
        "print(hashlib.sha256(print_book(svg_books.RICH)).hexdigest())"
    )
    found = set()
    for seed, zone in (("1", "Pacific/Auckland"), ("2", "America/New_York")):
        environment = {**os.environ, "PYTHONHASHSEED": seed, "TZ": zone, "LANG": "C"}
        environment["PYTHONPATH"] = str(Path(svg_books.__file__).parent)
        environment["SOURCE_DATE_EPOCH"] = seed
        run = subprocess.run(
            [sys.executable, "-c", script], env=environment, capture_output=True, check=True
        )
        found.add(run.stdout.decode().strip())
    import hashlib

    assert found == {hashlib.sha256(rich).hexdigest()}


def test_fonts_are_shared_by_all_pages_and_subset() -> None:
    body = '<text x="9" y="9">Kingfisher over reeds, 12 knots</text>'
    one, many = print_book(book(body)), print_book(book(*[body] * 20))
    assert len(many) < len(one) + 20 * 900


def test_a_missing_glyph_is_named_before_anything_is_drawn() -> None:
    pages = book('<text x="9" y="9">fine</text>', '<text x="9" y="9">a ש and 結, ש</text>')
    with pytest.raises(FontError) as caught:
        print_book(pages)
    assert [str(problem) for problem in caught.value.problems] == [
        "page 2: Source Sans Pro has no “ש” (U+05E9) for “a ש and 結, ש”; "
        "write it with other characters",
        "page 2: Source Sans Pro has no “結” (U+7D50) for “a ש and 結, ש”; "
        "write it with other characters",
    ]


def test_all_that_is_wrong_is_told_at_once() -> None:
    wrong = book('<use href="#a"/>', '<text x="9" y="9">fine</text>', '<text class="a">b</text>')
    with pytest.raises(TemplateError) as caught:
        print_book(wrong)
    assert [problem.place.file for problem in caught.value.problems] == ["page 1", "page 3"]
    late = book('<rect x="?"/>', '<text x="9" y="9">fine</text>', '<path d="H9"/>')
    with pytest.raises(TemplateError) as caught:
        print_book(late)
    assert [problem.place.file for problem in caught.value.problems] == ["page 1", "page 3"]


@pytest.mark.parametrize(
    ("pages", "message"),
    [
        (book('<text data-tag="Link" data-href="#no" x="9" y="9">a</text>'), "leads to “no”"),
        (book('<g data-dest="a"/>', '<g data-dest="a"/>'), "the place “a” is on page 1 too"),
        (book("", bookmarks=[Bookmark("Chart", "no", 1)]), "bookmark “Chart” leads to “no”"),
        (book('<text data-tag="Link" data-href="javascript:1" x="9" y="9">a</text>'),
         "a link leads to “javascript:1”"),
        (book('<text data-tag="Link" data-href="file:///etc/passwd" x="9" y="9">a</text>'),
         "a link leads to “file:///etc/passwd”"),
        (book(), "the book has no page"),
        (Book((Page("", 210, 297, "1"),), (), "t", "", "", (), "en", RICH.date), "not well-formed"),
        (Book((Page(svg("", 100, 100), 210, 297, "1"),), (), "t", "", "", (), "en", RICH.date),
         "the viewBox is 100 × 100"),
    ],
)  # fmt: skip
def test_what_does_not_hang_together_is_an_error(pages: Book, message: str) -> None:
    with pytest.raises(TemplateError, match=message):
        print_book(pages)


def test_page_pictures_are_as_large_as_the_paper() -> None:
    pictures = page_pictures(print_book(RICH), dpi=50.8)
    assert [picture.size for picture in pictures] == [(420, 594), (420, 594)]
    assert all(picture.mode == "RGB" for picture in pictures)


def test_an_empty_title_and_empty_author_are_left_out() -> None:
    pdf = pikepdf.open(io.BytesIO(print_book(replace(RICH, author="", keywords=()))))
    assert "/Author" not in pdf.docinfo and "/Keywords" not in pdf.docinfo
    assert b"dc:creator" not in pdf.Root.Metadata.read_bytes()


def test_a_long_title_in_letters_of_any_sort_stays_whole() -> None:
    title = "Łódź & <Reeds> “שלום” " * 15
    pdf = pikepdf.open(io.BytesIO(print_book(replace(RICH, title=title))))
    assert str(pdf.docinfo["/Title"]) == title
    with pdf.open_metadata() as metadata:
        assert metadata["dc:title"] == title
