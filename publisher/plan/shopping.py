"""Turn a cutting list into what to buy, colour by colour, everything rounded up."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from publisher.plan.values import BuyLine, CutLine
from publisher.source.pattern import Yarn, YarnColour


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
    ball_metres = _ball_metres(yarn)
    balls = _up(metres / ball_metres) if ball_metres else None
    return BuyLine(
        colour=colour.letter,
        yarn=yarn.key,
        length_m=_up(metres),
        mass_g=_up(grams),
        balls=balls,
        price=None if balls is None or yarn.price is None else round(balls * yarn.price, 2),
        left_m=None if balls is None or not ball_metres else balls * ball_metres - metres,
    )


def _ball_metres(yarn: Yarn) -> float | None:
    if yarn.ball_metres:
        return yarn.ball_metres
    return yarn.ball_grams / yarn.grams_per_metre if yarn.ball_grams else None


def _up(value: float) -> int:
    """Up to the next whole number, but not for what only the arithmetic adds."""
    return math.ceil(round(value, 6))
