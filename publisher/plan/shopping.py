"""Turn a cutting list into what to buy, colour by colour, everything rounded up."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from publisher.plan.values import BuyLine, CutLine
from publisher.source.pattern import YarnColour


def shopping_list(cutting: Iterable[CutLine], colours: Sequence[YarnColour]) -> tuple[BuyLine, ...]:
    """One line a colour that is cut, in the pattern's order: whole metres, grams and balls."""
    lengths: dict[str, float] = {}
    for line in cutting:
        lengths[line.colour] = lengths.get(line.colour, 0.0) + line.count * line.length_mm
    return tuple(
        _buy(colour, lengths[colour.letter]) for colour in colours if colour.letter in lengths
    )


def _buy(colour: YarnColour, length_mm: float) -> BuyLine:
    yarn = colour.yarn
    metres = length_mm / 1000
    grams = metres * yarn.grams_per_metre
    balls = None
    if yarn.ball_metres:
        balls = _up(metres / yarn.ball_metres)
    elif yarn.ball_grams:
        balls = _up(grams / yarn.ball_grams)
    price = None if balls is None or yarn.price is None else round(balls * yarn.price, 2)
    return BuyLine(colour.letter, yarn.key, _up(metres), _up(grams), balls, price)


def _up(value: float) -> int:
    """Up to the next whole number, but not for what only the arithmetic adds."""
    return math.ceil(round(value, 6))
