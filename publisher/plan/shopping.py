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
    on_a_ball = ball_metres(yarn.ball_metres, yarn.ball_grams, yarn.grams_per_metre)
    balls = whole_up(metres / on_a_ball) if on_a_ball else None
    return BuyLine(
        colour=colour.letter,
        yarn=yarn.key,
        length_m=whole_up(metres),
        mass_g=whole_up(grams),
        balls=balls,
        price=None if balls is None or yarn.price is None else round(balls * yarn.price, 2),
        left_m=None if balls is None or not on_a_ball else balls * on_a_ball - metres,
    )


def ball_metres(metres: float | None, grams: float | None, grams_per_metre: float) -> float | None:
    """What is on a ball, by its length or else by its weight; None where neither is said."""
    return metres or (grams / grams_per_metre if grams else None)


def whole_up(value: float) -> int:
    """Up to the next whole number, but not for what only the arithmetic adds."""
    return math.ceil(round(value, 6))
