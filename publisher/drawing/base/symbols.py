"""Give every colour of a pattern its symbol, and every symbol an ink that shows on its cell.

Up to 24 colours have a sign each, the heavier signs for the darker yarns. A pattern with more has
no signs at all: every colour is told by its own letter, plain for the lightest third, in a frame
for the middle third, cut out of a dark tile for the darkest. A colour's symbol depends on the
pattern's colours alone, so that it is the same in every edition.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cache, lru_cache
from types import MappingProxyType

from publisher.drawing.base.shapes import Outline, box, ring
from publisher.drawing.base.signs import FIRST_CHOICE, SIGNS
from publisher.fonts import proportions, text_width_em
from publisher.frozen import frozen
from publisher.model.colour import WHITE, Colour, contrast
from publisher.model.pattern import YarnColour

BLANK = "\N{NO-BREAK SPACE}"
"""An empty cell's width, in either face; it does not collapse as a blank does."""

NEAR_BLACK = Colour.from_hex("#14181b")

_WHITE_ENOUGH = 3.5
_SOFT_ENOUGH = 5.0
_TILE_ENOUGH = 7.0
_LETTER_SIZE = 0.66
_FRAME = ring(0.07, (-0.39, -0.39), (0.39, -0.39), (0.39, 0.39), (-0.39, 0.39))
_TILE = (box(-0.38, -0.38, 0.38, 0.38),)
_GROUNDS: tuple[tuple[Outline, ...], ...] = ((), _FRAME, _TILE)


@frozen
class Symbol:
    """A symbol as one character of a face, over a ground of outlines.

    The unit is the shorter side of a cell: `size` is the type size, `left` and `base` the distance
    of the character's origin from the cell's middle, to the left and down. On a `tile` the
    character is cut out of the ground. `outlines` are the ground of a letter, or the whole sign.
    """

    name: str
    character: str
    face: str
    size: float
    left: float
    base: float
    outlines: tuple[Outline, ...]
    tile: bool = False

    @property
    def lettered(self) -> bool:
        """Is it the colour's own letter?"""
        return self.face != "signs"


def assign_symbols(colours: Sequence[YarnColour]) -> Mapping[str, Symbol]:
    """A symbol for every colour's letter, from the lightest yarn to the darkest."""
    return _assigned(tuple(colours))


@lru_cache(maxsize=64)
def _assigned(colours: tuple[YarnColour, ...]) -> Mapping[str, Symbol]:
    letters = [colour.letter for colour in light_to_dark(colours)]
    if len(letters) > len(SIGNS):
        third = len(letters) / len(_GROUNDS)
        symbols = [_letter(letter, int(rank / third)) for rank, letter in enumerate(letters)]
    else:
        chosen = FIRST_CHOICE[: len(letters)]
        symbols = [_sign(sign.name) for sign in SIGNS if sign.name in chosen]
    return MappingProxyType(dict(zip(letters, symbols, strict=True)))


def light_to_dark(colours: Sequence[YarnColour]) -> list[YarnColour]:
    """Colours by their luminance; those alike stay in their order."""
    return sorted(colours, key=lambda colour: -colour.srgb.luminance)


def letter_on(tile: Colour) -> Colour:
    """White or near black, whichever shows on a tile."""
    return max((WHITE, NEAR_BLACK), key=lambda ink: contrast(ink, tile))


@cache
def plain_ink(cell: Colour) -> Colour:
    """White wherever it has 3.5 : 1, as copiers darken the middle tones; else near black."""
    return WHITE if contrast(WHITE, cell) >= _WHITE_ENOUGH else NEAR_BLACK


@cache
def symbol_ink(cell: Colour, least: float = _SOFT_ENOUGH) -> Colour:
    """White or near black, softened towards the cell as long as `least` : 1 is left.

    A pair that has less than that to begin with stays pure.
    """
    pure = plain_ink(cell)
    ink, share = pure, 0.0
    while share < 0.9:
        share += 0.02
        softer = pure.mix(cell, share)
        if contrast(softer, cell) < least:
            break
        ink = softer
    return ink


def tile_ink(cell: Colour) -> Colour:
    """The ink of a tile: soft, but with room for a letter to show on it."""
    return symbol_ink(cell, _TILE_ENOUGH)


@cache
def _sign(name: str) -> Symbol:
    sign = next(sign for sign in SIGNS if sign.name == name)
    return Symbol(name, sign.character, "signs", 1.0, -0.5, 0.5, sign.outlines)


def _letter(letter: str, weight: int) -> Symbol:
    face = "bold"
    left = -text_width_em(letter, face) * _LETTER_SIZE / 2
    base = proportions(face).cap_height_em * _LETTER_SIZE / 2
    ground = _GROUNDS[weight]
    return Symbol(letter, letter, face, _LETTER_SIZE, left, base, ground, ground is _TILE)
