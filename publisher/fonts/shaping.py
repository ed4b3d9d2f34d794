"""Turn text into glyphs and widths, word by word, each word of a face shaped just once."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache
from typing import Any, NamedTuple

from publisher.errors import FontError, Place, Problem
from publisher.fonts.faces import font_file

MM_PER_PT = 25.4 / 72


class Word(NamedTuple):
    """A shaped word, in em. `glyphs`: (glyph number, x, y down) from the word's start. `missing`:
    its characters for which the face has no glyph."""

    advance_em: float
    glyphs: tuple[tuple[int, float, float], ...]
    missing: str


class Proportions(NamedTuple):
    """Heights over the baseline of a face, in em; `descent_em` is positive, below it."""

    ascent_em: float
    descent_em: float
    cap_height_em: float
    x_height_em: float


class Advances(dict[str, float]):
    """The advance in em of each word of a face, measured when it is first asked for."""

    def __init__(self, measure: Callable[[str], float]) -> None:
        self._measure = measure

    def __missing__(self, word: str) -> float:
        found = self[word] = self._measure(word)
        return found


class Shaper:
    """Shapes the words of one face, and remembers them."""

    def __init__(self, face: str) -> None:
        import uharfbuzz as hb

        self._hb = hb
        self._features = {"kern": True, "liga": False, "clig": False}
        path = font_file(face)
        try:
            self._font: Any = hb.Font(hb.Face(hb.Blob.from_file_path(str(path))))
            self._upem = int(self._font.face.upem)
        except (hb.HarfBuzzError, OSError) as error:
            raise FontError(Problem(Place(str(path)), str(error), "install it anew")) from None
        if not self._font.face.glyph_count:
            what = "this is not a font"
            raise FontError(Problem(Place(str(path)), what, "install its package anew"))
        self._words: dict[str, Word] = {}
        self.advances = Advances(lambda word: self.word(word).advance_em)
        self.space = self.word(" ")

    def word(self, word: str) -> Word:
        """The glyphs of a word (a text without blanks, or one blank)."""
        found = self._words.get(word)
        if found is None:
            found = self._words[word] = self._shape(word)
        return found

    def words(self, text: str | list[str]) -> list[Word]:
        """The words of a line between its blanks; or the ones of a list."""
        known = self._words
        parts = text.split(" ") if isinstance(text, str) else text
        return [known.get(part) or self.word(part) for part in parts]

    def width_em(self, text: str) -> float:
        """The advance of a line of text."""
        advances = self.advances
        if " " not in text:
            return advances[text]
        words = text.split(" ")
        return sum([advances[word] for word in words], self.space.advance_em * (len(words) - 1))

    def missing(self, text: str) -> str:
        """The characters without a glyph, each once, in order."""
        found = "".join(word.missing for word in self.words(text))
        return "".join(dict.fromkeys(found))

    def proportions(self) -> Proportions:
        tags = self._hb.OTMetricsTag
        values = (
            tags.HORIZONTAL_ASCENDER,
            tags.HORIZONTAL_DESCENDER,
            tags.CAP_HEIGHT,
            tags.X_HEIGHT,
        )
        up, down, cap, x = (
            self._font.get_metric_position_with_fallback(tag) / self._upem for tag in values
        )
        return Proportions(up, -down, cap, x)

    def _shape(self, word: str) -> Word:
        hb = self._hb
        buffer = hb.Buffer()
        buffer.add_utf8(word.encode("utf-8", "surrogatepass"))
        buffer.guess_segment_properties()
        buffer.direction = "ltr"
        hb.shape(self._font, buffer, self._features)
        infos, em, pen = buffer.glyph_infos, self._upem, 0
        glyphs = []
        for info, position in zip(infos, buffer.glyph_positions or (), strict=True):
            x, y = pen + position.x_offset, -position.y_offset
            glyphs.append((info.codepoint, x / em, y / em))
            pen += position.x_advance
        missing = self._without_glyph(word) if any(g[0] == 0 for g in glyphs) else ""
        return Word(pen / em, tuple(glyphs), missing)

    def _without_glyph(self, word: str) -> str:
        return "".join(letter for letter in word if not self._font.get_nominal_glyph(ord(letter)))


@cache
def shaper(face: str) -> Shaper:
    """The shaper of a face. FontError if there is no such face, or its font is not installed."""
    return Shaper(face)


def text_width_em(text: str, face: str) -> float:
    """The width of a line of text, in em (one em is the type size)."""
    return shaper(face).width_em(text)


def text_width_mm(text: str, face: str, size_pt: float) -> float:
    """The width of a line of text in mm, exactly as the press draws it."""
    return shaper(face).width_em(text) * size_pt * MM_PER_PT


def missing_characters(text: str, face: str) -> str:
    """The characters of a text that a face cannot print, each once, in order; "" if it can."""
    return shaper(face).missing(text)


@cache
def proportions(face: str) -> Proportions:
    """Ascent, descent, cap height and x-height of a face in em, for placing text."""
    return shaper(face).proportions()
