"""The house's faces as a PDF takes them: codes for glyphs, widths, subsets, and their letters.

A code is the glyph's own number in the font file, two bytes; a subset keeps the numbers. So what is
written in a face stays right whatever else of the face a book needs (ISO 32000-1, 9.7).
"""

from __future__ import annotations

import struct
from collections.abc import Iterable
from functools import cache, cached_property, lru_cache
from hashlib import blake2b
from typing import Any, NamedTuple

from publisher.fonts import FACES, Word, font_file, proportions, shaper
from publisher.frozen import frozen
from publisher.press.svg.numbers import plain

_DROPPED = ("BASE", "DSIG", "GDEF", "GPOS", "GSUB", "OS/2", "STAT", "cmap", "gasp", "name", "post")
_ESCAPES = str.maketrans({"\\": r"\\", "(": r"\(", ")": r"\)", "\r": r"\r"})


_MOST_KEPT = 20_000
"""Lines that are remembered: numbers, names and rows of signs come again and again."""


class ShownText(NamedTuple):
    """A line of text, or a part of one, ready to be shown.

    `shown`: the operator that shows it; `spacing_em`: what stands between its letters, besides.
    `glyphs`: all that it needs. `missing`: its characters without a glyph. `spoken`: its letters
    are not those that its glyphs are known by, so that they have to be said. `raised`: the places
    (glyph, x, y down; em) of all glyphs, if some stand off the base line.
    """

    shown: str
    width_em: float
    spacing_em: float
    glyphs: frozenset[int]
    missing: str
    spoken: bool
    raised: tuple[tuple[int, float, float], ...]


class _Word(NamedTuple):
    """`inside`: what stands between ( and ), kerning included, as in `ab)-20(c`."""

    inside: str
    kerned: bool
    spoken: bool


@frozen
class Subset:
    """A font's subset, as its objects say it. `widths`: the W array; `letters`: the ToUnicode
    map."""

    name: str
    program: bytes
    widths: str
    letters: str


class Typeface:
    """One face."""

    def __init__(self, face: str) -> None:
        import uharfbuzz as hb

        self._hb = hb
        self._face: Any = hb.Face(hb.Blob.from_file_path(str(font_file(face))))
        self._font: Any = hb.Font(self._face)
        self.key = face
        self.shaper = shaper(face)
        self.em = int(self._face.upem)
        self.proportions = proportions(face)
        self.name = FACES[face].file_name.removesuffix(".ttf")
        self._words: dict[str, _Word] = {}
        self._lines: dict[tuple[str, float | None], ShownText] = {}
        self._advances: dict[int, float] = {}
        self._space = _code(self.shaper.space.glyphs[0][0])

    def advance_em(self, glyph: int) -> float:
        """Return how far a glyph moves on, unkerned."""
        found = self._advances.get(glyph)
        if found is None:
            found = self._advances[glyph] = self._font.get_glyph_h_advance(glyph) / self.em
        return found

    def line(self, text: str, step_em: float | None = None) -> ShownText:
        """A line, kerned; or with its letters one step apart."""
        key = (text, step_em)
        found = self._lines.get(key)
        if found is None:
            if len(self._lines) >= _MOST_KEPT:
                self._lines.clear()
            found = self._kerned(text) if step_em is None else self._even(text, step_em)
            self._lines[key] = found
        return found

    def show_glyph(self, glyph: int) -> str:
        """The operator that shows one glyph."""
        return f"({_code(glyph)})Tj"

    def _kerned(self, text: str) -> ShownText:
        words = text.split(" ")
        shaped = self.shaper.words(text)
        known = [self._words.get(word) or self._encode(word) for word in words]
        inside = self._space.join([word.inside for word in known])
        shown = f"[({inside})]TJ" if any(word.kerned for word in known) else f"({inside})Tj"
        glyphs = {glyph for word in shaped for glyph, _, _ in word.glyphs}
        if len(words) > 1:
            glyphs.add(self.shaper.space.glyphs[0][0])
        return ShownText(
            shown,
            self.shaper.width_em(text),
            0.0,
            frozenset(glyphs),
            "".join(word.missing for word in shaped),
            any(word.spoken for word in known),
            _raised(shaped, self.shaper.space),
        )

    def _even(self, text: str, step_em: float) -> ShownText:
        shaped = [self.shaper.word(letter) for letter in text]
        parts = [[glyph for glyph, _, _ in letter.glyphs] for letter in shaped]
        natural = [sum(map(self.advance_em, glyphs)) for glyphs in parts]
        codes = ["".join(map(_code, glyphs)) for glyphs in parts]
        spacing = 0.0
        if len(set(natural)) == 1 and all(len(glyphs) == 1 for glyphs in parts):
            shown, spacing = f"({''.join(codes)})Tj", step_em - natural[0]
        else:
            beyond = [plain((width - step_em) * 1000) for width in natural]
            pairs = zip(codes, beyond, strict=True)
            shown = f"[{''.join(f'({code}){number}' for code, number in pairs)}]TJ"
        return ShownText(
            shown,
            step_em * len(text),
            spacing,
            frozenset(glyph for glyphs in parts for glyph in glyphs),
            "".join(letter.missing for letter in shaped),
            self._known_by(glyph for glyphs in parts for glyph in glyphs) != _as_read(text),
            _raised(shaped, None, step_em),
        )

    def _known_by(self, glyphs: Iterable[int]) -> str:
        return "".join([self._letters.get(glyph, "") for glyph in glyphs])

    @cached_property
    def _letters(self) -> dict[int, str]:
        """The letter that each glyph is known by: the first that the font draws with it."""
        nominal = self._font.get_nominal_glyph
        codes = sorted(self._face.unicodes, reverse=True)
        return {nominal(code): _as_read(chr(code)) for code in codes}

    @cached_property
    def box(self) -> tuple[int, ...]:
        """The box around all glyphs in thousandths of an em: left, bottom, right, top."""
        sides = struct.unpack(">4h", self._face.reference_table("head").data[36:44])
        return tuple(round(side * 1000 / self.em) for side in sides)

    @cached_property
    def slant(self) -> float:
        """The angle of its upright strokes, in degrees; negative leans to the right."""
        angle = struct.unpack(">i", self._face.reference_table("post").data[4:8])[0] / 65536
        return float(angle)

    def subset(self, glyphs: frozenset[int]) -> Subset:
        """A font of these glyphs alone, under their own numbers."""
        hb = self._hb
        wanted = hb.SubsetInput()
        wanted.glyph_set.update(glyphs)
        wanted.flags = hb.SubsetFlags.RETAIN_GIDS | hb.SubsetFlags.NO_HINTING
        wanted.drop_table_tag_set.update(int.from_bytes(tag.encode()) for tag in _DROPPED)
        program = bytes(hb.subset(self._face, wanted).blob.data)
        mark = blake2b(program, digest_size=6).digest()
        prefix = "".join(chr(ord("A") + byte % 26) for byte in mark)
        ordered = sorted(glyphs)
        widths = "".join(
            f"{run[0]}[{' '.join(plain(self.advance_em(glyph) * 1000) for glyph in run)}]"
            for run in _neighbours(ordered)
        )
        known = {glyph: self._letters[glyph] for glyph in ordered if glyph in self._letters}
        return Subset(f"{prefix}+{self.name}", program, widths, _unicode_map(known))

    def _encode(self, word: str) -> _Word:
        shaped = self.shaper.word(word)
        inside, cursor, kerned = [], 0.0, False
        for glyph, x, _ in shaped.glyphs:
            if abs(x - cursor) > 1e-6:
                inside.append(f"){plain((cursor - x) * 1000)}(")
                kerned = True
            inside.append(_code(glyph))
            cursor = x + self.advance_em(glyph)
        if abs(shaped.advance_em - cursor) > 1e-6:
            inside.append(f"){plain((cursor - shaped.advance_em) * 1000)}(")
            kerned = True
        known = self._known_by(glyph for glyph, _, _ in shaped.glyphs)
        found = self._words[word] = _Word("".join(inside), kerned, known != _as_read(word))
        return found


def _as_read(text: str) -> str:
    """A blank that holds a line together is drawn, and read, as any other."""
    return text.replace("\u00a0", " ")


def _raised(
    words: list[Word], blank: Word | None, step_em: float = 0.0
) -> tuple[tuple[int, float, float], ...]:
    """Every glyph's place in a line, if one stands off the base line; else none. Between words
    is a `blank`; or what are words here are letters, one step apart."""
    if not any(y for word in words for _, _, y in word.glyphs):
        return ()
    places, at = [], 0.0
    for index, word in enumerate(words):
        if index and blank is not None:
            places.append((blank.glyphs[0][0], at, 0.0))
            at += blank.advance_em
        places += [(glyph, at + x, y) for glyph, x, y in word.glyphs]
        at += step_em if blank is None else word.advance_em
    return tuple(places)


@cache
def typeface(face: str) -> Typeface:
    """A face of the house. FontError if its font is not installed."""
    return Typeface(face)


@lru_cache(maxsize=64)
def subset(face: str, glyphs: frozenset[int]) -> Subset:
    """A subset of a face, made once for books that need the same glyphs."""
    return typeface(face).subset(glyphs)


@cache
def _code(glyph: int) -> str:
    return (chr(glyph >> 8) + chr(glyph & 255)).translate(_ESCAPES)


def _neighbours(ordered: list[int]) -> Iterable[list[int]]:
    """Rising numbers, in runs without a gap."""
    runs: list[list[int]] = []
    for number in ordered:
        if runs and runs[-1][-1] == number - 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    return runs


_MOST_LINES = 100
"""Of one block of a map (ISO 32000-1, 9.10.3, and Adobe's note 5411)."""


def _unicode_map(letters: dict[int, str]) -> str:
    lines = [
        f"<{glyph:04X}><{letter.encode('utf-16-be').hex().upper()}>"
        for glyph, letter in letters.items()
    ]
    blocks = [lines[at : at + _MOST_LINES] for at in range(0, len(lines), _MOST_LINES)]
    mapped = "\n".join(
        f"{len(block)} beginbfchar\n" + "\n".join(block) + "\nendbfchar" for block in blocks
    )
    return (
        "/CIDInit/ProcSet findresource begin\n12 dict begin\nbegincmap\n"
        "/CIDSystemInfo<</Registry(Adobe)/Ordering(UCS)/Supplement 0>>def\n"
        "/CMapName/Adobe-Identity-UCS def\n/CMapType 2 def\n"
        "1 begincodespacerange\n<0000><FFFF>\nendcodespacerange\n"
        f"{mapped}\nendcmap\nCMapName currentdict/CMap defineresource pop\nend\nend"
    )
