"""The words on a page are the font's: its glyphs, their widths, outlines and letters.

Held against fontTools, which reads the font files by itself, and HarfBuzz asked directly.
"""

from __future__ import annotations

import io
import unicodedata
from functools import cache
from typing import Any

import pikepdf
import pypdfium2
import pytest
import uharfbuzz as hb
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont
from hypothesis import example, given, settings
from hypothesis import strategies as st

from publisher.fonts import FACES, font_attributes, font_file
from publisher.press import print_book
from publisher.press.pdf.typefaces import typeface
from tests.support.svg_books import book

SIZE_MM = 10.0
WORDS = "Kingfisher, AV To 12½″ – “fjord”, Łódź é"


@cache
def font(face: str) -> TTFont:
    return TTFont(font_file(face))


@cache
def alphabet(face: str) -> list[str]:
    """The characters that a face draws, as a text may have them."""
    letters = [chr(code) for code in font(face).getBestCmap()]
    return [letter for letter in letters if letter.isprintable() and not letter.isspace()]


def faces_and_words() -> st.SearchStrategy[tuple[str, str]]:
    def words(face: str) -> st.SearchStrategy[str]:
        letters = st.sampled_from(alphabet(face))
        return st.lists(st.text(letters, min_size=1, max_size=12), min_size=1, max_size=3).map(
            lambda parts: " ".join(" ".join(parts).split()) or "x"
        )

    return st.sampled_from(sorted(set(FACES) - {"signs"})).flatmap(
        lambda face: st.tuples(st.just(face), words(face))
    )


def escaped(words: str) -> str:
    return words.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def text(face: str, words: str, more: str = "") -> str:
    return (
        f'<text {font_attributes(face)} font-size="{SIZE_MM:g}" x="10" y="50" {more}>'
        f"{escaped(words)}</text>"
    )


def printed(face: str, words: str, more: str = "") -> pikepdf.Pdf:
    return pikepdf.open(io.BytesIO(print_book(book(text(face, words, more)))))


def shown(pdf: pikepdf.Pdf, face: str) -> list[tuple[int, float]]:
    """(glyph, where it begins, in em from the line's start) as a reader's program counts: by the
    font's W array, the numbers in TJ, Tc, and the text's matrix (ISO 32000-1, 9.4)."""
    widths = width_array(pdf, face)
    found, at, spacing, start = [], 0.0, 0.0, 10.0
    for operands, operator in pikepdf.parse_content_stream(pdf.pages[0]):
        if str(operator) == "Tc":
            spacing = float(operands[0]) / SIZE_MM
        elif str(operator) == "Tm":
            at = (float(operands[4]) - start) / SIZE_MM
        elif str(operator) in ("Tj", "TJ"):
            parts = operands[0] if str(operator) == "TJ" else operands
            for part in parts:
                if not isinstance(part, pikepdf.String):
                    at -= float(part) / 1000
                    continue
                codes = bytes(part)
                for index in range(0, len(codes), 2):
                    glyph = int.from_bytes(codes[index : index + 2])
                    found.append((glyph, at))
                    at += widths[glyph] / 1000 + spacing
    return found


def descendant(pdf: pikepdf.Pdf, face: str) -> Any:
    return pdf.pages[0].Resources.Font[f"/{face}"].DescendantFonts[0]


def width_array(pdf: pikepdf.Pdf, face: str) -> dict[int, float]:
    array, widths = list(descendant(pdf, face).W), dict[int, float]()
    for first, run in zip(array[::2], array[1::2], strict=True):
        widths |= {int(first) + step: float(width) for step, width in enumerate(run)}
    return widths


def shaped(face: str, words: str) -> tuple[list[tuple[int, float]], float]:
    """(glyph, x in em) as HarfBuzz sets a line whose words are parted by blanks."""
    known, em = hb.Font(hb.Face(hb.Blob.from_file_path(str(font_file(face))))), 0
    em, pen, found = known.face.upem, 0, []
    for index, word in enumerate(words.split(" ")):
        for part in ([" "] if index else []) + [word]:
            buffer = hb.Buffer()
            buffer.add_str(part)
            buffer.guess_segment_properties()
            buffer.direction = "ltr"
            hb.shape(known, buffer, {"kern": True, "liga": False, "clig": False})
            for info, place in zip(buffer.glyph_infos, buffer.glyph_positions or (), strict=True):
                found.append((info.codepoint, (pen + place.x_offset) / em))
                pen += place.x_advance
    return found, pen / em


@settings(max_examples=80, deadline=None)
@given(faces_and_words())
@example(("bold", "0 j\u031c 1"))
def test_glyphs_stand_where_harfbuzz_sets_them(drawn: tuple[str, str]) -> None:
    face, words = drawn
    wanted, _ = shaped(face, words)
    found = shown(printed(face, words), face)
    assert [glyph for glyph, _ in found] == [glyph for glyph, _ in wanted]
    assert [x for _, x in found] == pytest.approx([x for _, x in wanted], abs=2e-5)


def test_pairs_are_kerned() -> None:
    (_, _), (_, second) = shown(printed("sans", "To"), "sans")
    plain = font("sans")["hmtx"][font("sans").getBestCmap()[ord("T")]][0] / 1000
    assert second < plain - 0.01


@pytest.mark.parametrize("face", FACES)
def test_widths_are_the_fonts_advances(face: str) -> None:
    words = WORDS if face != "signs" else "".join(alphabet(face)[:9])
    pdf, known = printed(face, words, 'data-advance="6"'), font(face)
    glyphs, em = known.getGlyphOrder(), known["head"].unitsPerEm
    found = width_array(pdf, face)
    assert len(found) >= min(len(set(words)), 9)
    assert found == pytest.approx({g: 1000 * known["hmtx"][glyphs[g]][0] / em for g in found})
    assert descendant(pdf, face).CIDToGIDMap == "/Identity"


def outline(fonts: TTFont, glyph: int) -> Any:
    """A glyph's outline, those of its parts put in, and its advance."""
    name = fonts.getGlyphOrder()[glyph]
    pen = DecomposingRecordingPen(fonts.getGlyphSet())
    fonts.getGlyphSet()[name].draw(pen)
    return pen.value, fonts["hmtx"][name][0]


@pytest.mark.parametrize("face", FACES)
def test_a_subset_keeps_every_outline_under_its_own_number(face: str) -> None:
    """Glyphs made of others, such as é, too: what they are made of comes with them."""
    words = WORDS if face != "signs" else "".join(alphabet(face)[:9])
    pdf = printed(face, words)
    kept = TTFont(io.BytesIO(descendant(pdf, face).FontDescriptor.FontFile2.read_bytes()))
    glyphs = {glyph for glyph, _ in shown(pdf, face)}
    assert len(glyphs) > 7
    for glyph in glyphs:
        assert outline(kept, glyph) == outline(font(face), glyph), glyph
    if face == "sans":
        assert any(font(face)["glyf"][font(face).getGlyphOrder()[g]].isComposite() for g in glyphs)


def test_a_subset_is_much_smaller_than_the_font() -> None:
    pdf = printed("sans", "reeds")
    program = descendant(pdf, "sans").FontDescriptor.FontFile2.read_bytes()
    assert len(program) < font_file("sans").stat().st_size / 20


@pytest.mark.parametrize("face", FACES)
def test_the_descriptor_says_what_the_font_says(face: str) -> None:
    words = WORDS if face != "signs" else alphabet(face)[0]
    pdf, known = printed(face, words), font(face)
    said = descendant(pdf, face).FontDescriptor
    head, em = known["head"], known["head"].unitsPerEm
    box = [head.xMin, head.yMin, head.xMax, head.yMax]
    assert [float(side) for side in said.FontBBox] == pytest.approx(
        [1000 * side / em for side in box], abs=0.5
    )
    assert float(said.ItalicAngle) == pytest.approx(known["post"].italicAngle, abs=1e-3)
    flags = int(said.Flags)
    assert flags & 4 and not flags & 32  # symbolic: codes are glyphs, not letters
    assert bool(flags & 64) == ("italic" in face)
    assert bool(flags & 2) == face.startswith("serif")
    assert float(said.CapHeight) > 0 >= float(said.Descent)
    name = str(said.FontName)[1:]
    assert name[6] == "+" and name[:6].isupper()
    top = pdf.pages[0].Resources.Font[f"/{face}"]
    assert str(top.BaseFont)[1:] == str(descendant(pdf, face).BaseFont)[1:] == name


def letters_told(pdf: pikepdf.Pdf, face: str) -> dict[int, str]:
    """The ToUnicode map."""
    told = pdf.pages[0].Resources.Font[f"/{face}"].ToUnicode.read_bytes().decode()
    pairs = [line[1:-1].split("><") for line in told.splitlines() if line.startswith("<")][1:]
    return {int(code, 16): bytes.fromhex(letter).decode("utf-16-be") for code, letter in pairs}


@settings(max_examples=80, deadline=None)
@given(faces_and_words())
@example(("bold", "0 j\u031c 1"))
def test_words_are_read_as_they_were_written(drawn: tuple[str, str]) -> None:
    """A glyph's letter is the font's, or else the words are said beside it (ISO 32000-1, 14.9.4).
    pdfium, which parts ligatures and blanks as it sees fit, reads the same letters."""
    face, words = drawn
    pdf = printed(face, words)
    said, told = spoken(pdf), letters_told(pdf, face)
    assert (said or ["".join(told[glyph] for glyph, _ in shown(pdf, face))]) == [words]
    page = pypdfium2.PdfDocument(print_book(book(text(face, words))))[0]
    read = page.get_textpage().get_text_range()
    assert compatible(read) == compatible(words)


def compatible(words: str) -> str:
    return "".join(unicodedata.normalize("NFKC", words).split())


@pytest.mark.parametrize("face", FACES)
def test_letters_told_for_glyphs_are_those_of_the_font(face: str) -> None:
    words = WORDS if face != "signs" else "".join(alphabet(face)[:9])
    pdf, known = printed(face, words), font(face)
    names: dict[str, set[str]] = {}
    for code, name in known.getBestCmap().items():
        names.setdefault(name, set()).add(chr(code).replace("\u00a0", " "))
    told = letters_told(pdf, face)
    assert told.keys() == {glyph for glyph, _ in shown(pdf, face)}
    for glyph, letter in told.items():
        assert letter in names[known.getGlyphOrder()[glyph]]


def spoken(pdf: pikepdf.Pdf) -> list[str]:
    """The words that the page says in place of its glyphs."""
    return [
        str(operands[1]["/ActualText"])
        for operands, operator in pikepdf.parse_content_stream(pdf.pages[0])
        if str(operator) == "BDC" and "/ActualText" in operands[1]
    ]


@pytest.mark.parametrize(
    "words",
    ["cafe\u0301", "co\u00adop", "a\u200bb", "\ufeffa"],
)
def test_letters_that_glyphs_do_not_tell_are_said(words: str) -> None:
    assert spoken(printed("sans", words)) == [words]
    page = pypdfium2.PdfDocument(print_book(book(text("sans", words))))[0]
    read = page.get_textpage().get_text_range()
    hidden = str.maketrans("", "", "\u00ad\u200b\ufeff\ufe0f")
    assert read.translate(hidden).strip() == words.translate(hidden)


@pytest.mark.parametrize("words", ["cafe", "co-op", "a\u00a0b", "½″ → Łódź", "q\u0301 r"])
def test_letters_that_glyphs_tell_are_not_said_again(words: str) -> None:
    assert spoken(printed("sans", words)) == []


def test_a_mark_above_a_letter_stands_above_it() -> None:
    """q has no letter with an acute in the font: the accent is a glyph of its own, set off."""
    wanted, _ = shaped("sans", "q\u0301")
    found = shown(printed("sans", "q\u0301"), "sans")
    assert len(wanted) == 2
    assert found == [(glyph, pytest.approx(x, abs=2e-5)) for glyph, x in wanted]


def test_even_steps_hold_for_letters_of_different_widths() -> None:
    found = shown(printed("sans", "iWi.W", 'data-advance="7.5"'), "sans")
    assert [x * SIZE_MM for _, x in found] == pytest.approx([0, 7.5, 15, 22.5, 30], abs=1e-3)


def test_a_line_after_an_even_one_is_not_spaced() -> None:
    body = text("sans", "iiii", 'data-advance="9"') + text("sans", "iiii")
    pdf = pikepdf.open(io.BytesIO(print_book(book(body))))
    found = shown(pdf, "sans")
    apart = [found[at + 1][1] - found[at][1] for at in (0, 1, 2, 4, 5, 6)]
    natural = font("sans")["hmtx"]["i"][0] / 1000
    assert apart == pytest.approx([0.9, 0.9, 0.9, natural, natural, natural], abs=1e-4)


def test_what_is_remembered_of_lines_has_a_bound(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("publisher.press.pdf.typefaces._MOST_KEPT", 10)
    face = typeface("italic")
    for number in range(50):
        face.line(f"row {number}")
    assert len(face._lines) <= 10
