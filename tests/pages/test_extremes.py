"""Odd patterns get a right book or a clear word: never a traceback, never an empty page."""

from __future__ import annotations

import dataclasses
import io
import string

import pikepdf
import pypdfium2
import pytest

from publisher.errors import FontError
from publisher.model.colour import Colour
from publisher.model.pattern import Pattern, YarnColour
from publisher.press import print_book
from tests.support.shop import book, demo, small

EDITIONS = ("booklet", "handout", "large-print", "ink-saver", "left-handed")


def checked(pattern: Pattern, edition: str = "booklet", paper: str = "a4") -> bytes:
    """A book's PDF, after qpdf has looked at it and every page has some ink."""
    pdf = print_book(book(pattern, edition, paper))
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        assert opened.check_pdf_syntax() == []
    document = pypdfium2.PdfDocument(pdf)
    for page in document:
        assert page.get_textpage().get_text_range().strip()
    document.close()
    return pdf


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("cells", [("C",), ("CDS" * 9,), tuple("CDS" * 9), ("CD", "DC")])
def test_tiny_charts_make_whole_books(cells: tuple[str, ...], edition: str) -> None:
    checked(small(cells), edition)


@pytest.mark.parametrize("edition", EDITIONS)
@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_every_edition_comes_on_both_papers(edition: str, paper: str) -> None:
    pdf = checked(demo("tide-lines"), edition, paper)
    width = {"a4": 595.276, "letter": 612.0}[paper]
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        assert all(abs(float(page.mediabox[2]) - width) < 0.5 for page in opened.pages)


def test_sixty_colours_are_all_in_the_key() -> None:
    letters = (string.ascii_letters + string.digits)[:60]
    yarn = demo("tide-lines").colours[0].yarn
    colours = tuple(
        YarnColour(letter, f"shade {n}", Colour(n * 4, 255 - n * 4, n * 37 % 256), yarn)
        for n, letter in enumerate(letters)
    )
    pattern = dataclasses.replace(small((letters, letters[::-1])), colours=colours)
    piece = dataclasses.replace(
        pattern.pieces[0], cords=dataclasses.replace(pattern.pieces[0].cords, colour="a")
    )
    pdf = checked(dataclasses.replace(pattern, pieces=(piece,)))
    document = pypdfium2.PdfDocument(pdf)
    text = "\n".join(page.get_textpage().get_text_range() for page in document)
    document.close()
    for n in range(60):
        assert f"shade {n}" in text


@pytest.mark.parametrize("edition", EDITIONS)
def test_a_title_of_300_characters_is_broken_not_cut(edition: str) -> None:
    title = "Long Evening on the Lower River, with Boats and Lanterns, " * 5 + "Once More at Dusk"
    title = title[:300]
    pattern = dataclasses.replace(demo("tide-lines"), title=title)
    pdf = checked(pattern, edition)
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        assert str(opened.docinfo["/Title"]) == title
    if edition != "handout":
        document = pypdfium2.PdfDocument(pdf)
        words = document[0].get_textpage().get_text_range().split()
        document.close()
        assert words[: len(title.split())] == title.split()


def test_accents_are_printed() -> None:
    pattern = dataclasses.replace(demo("tide-lines"), title="Ålesund à l’aube, Žďár, Œuvre")
    document = pypdfium2.PdfDocument(checked(pattern))
    assert "Ålesund à l’aube, Žďár, Œuvre" in document[0].get_textpage().get_text_range()
    document.close()


def test_letters_that_no_face_has_are_named() -> None:
    pattern = dataclasses.replace(demo("tide-lines"), title="שקיעה")
    with pytest.raises(FontError) as caught:
        print_book(book(pattern))
    assert "U+05E9" in str(caught.value)


@pytest.mark.parametrize("order", ["zigzag", "one-way"])
@pytest.mark.parametrize("strands", [1, 2])
@pytest.mark.parametrize("shape", ["straight", "point", "arch"])
def test_every_way_of_working_has_its_words(order: str, strands: int, shape: str) -> None:
    pattern = demo("tide-lines")
    piece = pattern.pieces[0]
    changed = dataclasses.replace(
        piece,
        order=order,
        cords=dataclasses.replace(piece.cords, strands=strands),
        fringe=dataclasses.replace(piece.fringe, shape=shape, longest_mm=200, shortest_mm=80),
    )
    checked(dataclasses.replace(pattern, pieces=(changed,)))


def test_no_fringe_and_inches_first() -> None:
    pattern = demo("tide-lines")
    piece = dataclasses.replace(
        pattern.pieces[0],
        fringe=dataclasses.replace(pattern.pieces[0].fringe, longest_mm=0, shortest_mm=0),
    )
    pattern = dataclasses.replace(pattern, pieces=(piece,), units="inch-first")
    document = pypdfium2.PdfDocument(checked(pattern))
    cover = document[0].get_textpage().get_text_range()
    document.close()
    assert cover.index(" in") < cover.index(" cm")
