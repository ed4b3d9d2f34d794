"""A PDF file as the press writes it, read back by two independent readers."""

from __future__ import annotations

import io
import zlib

import pikepdf
import pypdf
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from publisher.press import print_book
from publisher.press.pdf.file import PdfFile, text_string
from tests.support.svg_books import RICH, book

WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=30)


def written(*objects: str, streams: tuple[bytes, ...] = (), plain: bool = False) -> bytes:
    """A PDF of one page whose catalogue keeps these objects under /Kept, the streams after them."""
    file = PdfFile()
    page, pages = file.number(), file.number()
    kept = [file.add(one) for one in objects]
    kept += [file.stream("/Kind/Test", data, plain=plain) for data in streams]
    file.add(f"<</Type/Page/Parent {pages} 0 R/MediaBox[0 0 9 9]/Resources<<>>>>", page)
    file.add(f"<</Type/Pages/Count 1/Kids[{page} 0 R]>>", pages)
    references = " ".join(f"{number} 0 R" for number in kept)
    root = file.add(f"<</Type/Catalog/Pages {pages} 0 R/Kept[{references}]>>")
    return file.write(root, file.add("<</Producer(Test)>>"))


def checked(pdf: bytes) -> pikepdf.Pdf:
    document = pikepdf.open(io.BytesIO(pdf))
    assert document.check_pdf_syntax() == []
    return document


def by_pypdf(pdf: bytes) -> pypdf.PdfReader:
    return pypdf.PdfReader(io.BytesIO(pdf), strict=True)


@settings(max_examples=60, deadline=None)
@given(st.lists(WORDS, min_size=1, max_size=5))
@example(["(a) \\ (b", "\r\n\t", "\x00\x18\x1f\x7f", "é – 結 𝕏", "", "þÿ", "\ufeffa", "\\(", "a\\"])
def test_words_of_any_sort_are_read_back(words: list[str]) -> None:
    pdf = written(*[text_string(text) for text in words])
    with checked(pdf) as document:
        assert [str(text) for text in document.Root.Kept] == words
    root = by_pypdf(pdf).trailer["/Root"]
    assert [text.get_object() for text in root["/Kept"]] == words


def test_half_of_a_surrogate_pair_does_not_stop_the_writer() -> None:
    with checked(written(text_string("a\ud835b"))) as document:
        assert str(document.Root.Kept[0]) == "a?b"


@pytest.mark.parametrize("count", [1, 199, 200, 201, 1000])
def test_any_number_of_objects_is_found_by_their_numbers(count: int) -> None:
    pdf = written(*[str(7 * number) for number in range(count)])
    with checked(pdf) as document:
        assert list(document.Root.Kept) == [7 * number for number in range(count)]
    reader = by_pypdf(pdf)
    kept = reader.trailer["/Root"]["/Kept"]
    assert [number.get_object() for number in kept] == [7 * number for number in range(count)]
    packed = {holder for holder, _ in reader.xref_objStm.values()}
    assert len(packed) == -(-(count + 4) // 200)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.binary(max_size=300), min_size=1, max_size=3), st.booleans())
@example([b"a\nendstream\nendobj\n", b"", b"\r", b"\n"], True)
def test_streams_of_any_bytes_are_read_back(streams: list[bytes], plain: bool) -> None:
    pdf = written(streams=tuple(streams), plain=plain)
    with checked(pdf) as document:
        assert [held.read_bytes() for held in document.Root.Kept] == streams
    kept = by_pypdf(pdf).trailer["/Root"]["/Kept"]
    assert [held.get_object().get_data() for held in kept] == streams


def test_a_plain_stream_lies_in_the_file_as_it_is_and_a_ready_one_is_not_deflated_twice() -> None:
    assert b"read me as I am" in written(streams=(b"read me as I am",), plain=True)
    file = PdfFile()
    held = file.stream("", zlib.compress(b"deflated before"), ready=True)
    pages = file.add("<</Type/Pages/Count 0/Kids[]>>")
    root = file.add(f"<</Type/Catalog/Pages {pages} 0 R/Held {held} 0 R>>")
    pdf = pikepdf.open(io.BytesIO(file.write(root, file.add("<<>>"))))
    assert pdf.Root.Held.read_bytes() == b"deflated before"


def test_streams_stand_by_themselves_and_all_else_is_packed() -> None:
    """A stream can't stand in another (ISO 32000-1, 7.5.7)."""
    pdf = print_book(RICH)
    reader, packed = by_pypdf(pdf), set(by_pypdf(pdf).xref_objStm)
    with checked(pdf) as document:
        for held in document.objects:
            if held.objgen == (0, 0):
                continue
            number = held.objgen[0]
            kind = held.get("/Type") if isinstance(held, pikepdf.Stream) else None
            assert (number in packed) != isinstance(held, pikepdf.Stream), (number, kind)
    assert reader.trailer["/Root"]["/Type"] == "/Catalog"


def test_the_file_is_known_by_what_is_in_it() -> None:
    ids = [pikepdf.open(io.BytesIO(written(one))).trailer.ID[0] for one in ("1", "1", "2")]
    assert bytes(ids[0]) == bytes(ids[1]) != bytes(ids[2])
    assert len(bytes(ids[0])) == 16


def test_a_book_of_very_many_objects_has_nothing_wrong() -> None:
    rows = "".join(f'<text x="9" y="{9 + row}" data-tag="P">{row}</text>' for row in range(900))
    with checked(print_book(book(rows, rows))) as document:
        assert len(document.Root.StructTreeRoot.K[0].K) == 1800
        assert len(document.objects) > 1800
