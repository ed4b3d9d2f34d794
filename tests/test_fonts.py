"""Texts are measured as they are drawn, and no character is lost without a word."""

from __future__ import annotations

import re

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from publisher import fonts
from publisher.errors import FontError
from publisher.fonts.outlines import outline

TEXT_FACES = [face for face in fonts.FACES if face != "signs"]


@pytest.mark.parametrize("face", TEXT_FACES)
def test_figures_are_tabular_in_every_face(face: str) -> None:
    widths = {fonts.text_width_em(figure, face) for figure in "0123456789"}
    assert len(widths) == 1


@pytest.mark.parametrize("face", TEXT_FACES)
def test_every_face_has_the_marks_a_pattern_prints(face: str) -> None:
    assert fonts.missing_characters("12–15 × 3′ 4″ ¼½¾⅛ 1⁄8 é Ö ß “” €", face) == ""


@pytest.mark.parametrize("face", TEXT_FACES)
def test_every_face_has_the_arrows_of_the_rows(face: str) -> None:
    assert fonts.missing_characters("→ ←", face) == ""


def test_missing_characters_are_named_once_each_in_order() -> None:
    assert fonts.missing_characters("two ש and 結 and ש", "sans") == "ש結"


def test_a_lone_surrogate_is_missing_not_a_crash() -> None:
    assert fonts.missing_characters("a\ud800b", "sans") != ""


def test_a_letter_and_its_combining_accent_have_a_glyph_together() -> None:
    assert fonts.missing_characters("e\u0301", "sans") == ""


@pytest.mark.parametrize("face", TEXT_FACES)
def test_an_accent_stands_where_the_font_anchors_it_to_its_letter(face: str) -> None:
    """Over a tall letter it is higher: as fontTools reads the anchors of the table GPOS."""
    font = TTFont(fonts.font_file(face))
    raised = 0
    for letter in "bdfklgqx":
        for accent in "\u0301\u0303\u0308":
            glyphs = fonts.shaper(face).word(letter + accent).glyphs
            if len(glyphs) == 1:  # a letter that the font has with its accent
                continue
            (base, x, y), (mark, mark_x, mark_y) = glyphs
            away = anchored(font, font.getGlyphName(base), font.getGlyphName(mark))
            assert (x, y) == (0, 0)
            assert (1000 * mark_x, -1000 * mark_y) == pytest.approx(away), (letter, accent)
            raised += away[1] > 150
    assert raised >= 10


def anchored(font: TTFont, base: str, mark: str) -> tuple[int, int]:
    """How far to the right of a letter and above it an accent is drawn, in units of the font."""
    table = font["GPOS"].table
    features = (one for one in table.FeatureList.FeatureRecord if one.FeatureTag == "mark")
    numbers = sorted({number for one in features for number in one.Feature.LookupListIndex})
    for part in (part for number in numbers for part in table.LookupList.Lookup[number].SubTable):
        if base in part.BaseCoverage.glyphs and mark in part.MarkCoverage.glyphs:
            at = part.MarkArray.MarkRecord[part.MarkCoverage.glyphs.index(mark)]
            anchors = part.BaseArray.BaseRecord[part.BaseCoverage.glyphs.index(base)].BaseAnchor
            place, own = anchors[at.Class], at.MarkAnchor
            return place.XCoordinate - own.XCoordinate, place.YCoordinate - own.YCoordinate
    raise AssertionError((base, mark))


def test_pairs_are_kerned_and_ligatures_stay_letters() -> None:
    alone = fonts.text_width_em("T", "sans") + fonts.text_width_em("o", "sans")
    assert fonts.text_width_em("To", "sans") < alone
    assert len(fonts.shaper("sans").word("office").glyphs) == len("office")


def test_width_grows_with_the_type_size() -> None:
    width_mm = fonts.text_width_mm("Reedbank", "serif", 20)
    assert width_mm == pytest.approx(2 * fonts.text_width_mm("Reedbank", "serif", 10))
    assert width_mm == pytest.approx(fonts.text_width_em("Reedbank", "serif") * 20 * 25.4 / 72)


@given(st.lists(st.text("Kingfsher ,.0123—é", max_size=8), max_size=6))
def test_a_line_is_as_wide_as_its_words_and_blanks(words: list[str]) -> None:
    parts = [word.replace(" ", "") for word in words]
    blanks = max(len(parts) - 1, 0) * fonts.text_width_em(" ", "sans")
    whole = sum(fonts.text_width_em(part, "sans") for part in parts) + blanks
    assert fonts.text_width_em(" ".join(parts), "sans") == pytest.approx(whole)


@pytest.mark.parametrize("face", list(fonts.FACES))
def test_the_svg_attributes_of_a_face_mean_that_face(face: str) -> None:
    font = fonts.svg_font(face)
    for inherited in ("normal", "bold"):
        weight = font.get("font-weight", inherited)
        style = font.get("font-style", "normal")
        assert fonts.face_named(f"'{font['font-family']}', serif", weight, style) == face


@pytest.mark.parametrize(
    ("face", "weight", "italic"),
    [
        ("sans", 400, False),
        ("semibold", 600, False),
        ("bold", 700, False),
        ("italic", 400, True),
        ("semibold-italic", 600, True),
        ("serif", 600, False),
        ("serif-regular", 400, False),
    ],
)
def test_a_face_is_drawn_from_the_font_that_its_name_says(
    face: str, weight: int, italic: bool
) -> None:
    """As fontTools reads the fonts' own tables: OS/2 usWeightClass, and bit 0 of fsSelection."""
    table = TTFont(fonts.font_file(face))["OS/2"]
    assert (table.usWeightClass, bool(table.fsSelection & 1)) == (weight, italic)


@pytest.mark.parametrize(
    ("weight", "style", "face"),
    [
        ("normal", "oblique", "italic"),
        ("400", "normal", "sans"),
        ("500", "normal", "sans"),
        ("600", "normal", "bold"),
        ("700", "normal", "bold"),
        ("bolder", "normal", "bold"),
    ],
)
def test_weights_and_slants_of_svg_find_the_nearest_face(
    weight: str, style: str, face: str
) -> None:
    """Of a regular and a bold, as CSS Fonts Level 4, 5.2, chooses; oblique is drawn in italics."""
    assert fonts.face_named("Source Sans Pro", weight, style) == face


def test_outlines_of_words_stand_as_far_apart_as_in_the_font() -> None:
    """Each glyph's first point, by the advances that fontTools reads; figures are not kerned."""
    font = TTFont(fonts.font_file("sans"))
    names, advances = font.getBestCmap(), font["hmtx"]
    per_em = font["head"].unitsPerEm
    ways = [1000 * advances[names[ord(letter)]][0] / per_em for letter in "1 2"]

    def begins(text: str) -> list[int]:
        return [int(x) for x in re.findall(r"M(-?\d+)", outline(text, "sans"))]

    assert begins("1 2") == pytest.approx([*begins("1"), begins("2")[0] + sum(ways[:2])], abs=1)


def test_a_family_that_is_not_ours_is_no_face() -> None:
    assert fonts.face_named("Reedbank Grotesk", "normal", "normal") is None


def test_attributes_are_ready_for_a_template() -> None:
    assert fonts.font_attributes("bold").startswith('font-family="Source Sans Pro" ')
    assert 'font-weight="bold"' in fonts.font_attributes("bold")


def test_heights_are_in_em_and_in_order() -> None:
    for face in TEXT_FACES:
        heights = fonts.proportions(face)
        assert 0.4 < heights.x_height_em < heights.cap_height_em < heights.ascent_em < 1.2
        assert 0 < heights.descent_em < 0.5


def test_an_unknown_face_is_named() -> None:
    with pytest.raises(FontError, match="no face “Reed”"):
        fonts.text_width_em("a", "Reed")


def test_a_missing_font_package_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("publisher.fonts.faces.find_spec", lambda package: None)
    with pytest.raises(FontError, match="pip install font-source-sans-pro"):
        fonts.font_file.__wrapped__("sans")


@pytest.mark.parametrize("faces", [("sans",), ("serif", "semibold", "sans"), TEXT_FACES])
def test_what_some_face_lacks_is_named_whether_a_font_is_opened_or_not(faces: list[str]) -> None:
    """No font is opened for letters that all faces have: none of those may be missing."""
    for code in range(0x20, 0x2300):
        letter = chr(code)
        missing = any(fonts.missing_characters(letter, face) for face in faces)
        assert fonts.lacking_characters(letter, faces) == letter * missing, hex(code)


def test_what_faces_lack_between_them_is_told_in_the_texts_order() -> None:
    assert fonts.lacking_characters("Жук ש ⌜ 結 ש", ["serif", "sans"]) == "ש⌜結"
    assert fonts.lacking_characters("Жук", ["sans", "italic"]) == "Жук"
    assert fonts.lacking_characters("Reed – “Ö”", TEXT_FACES) == ""
