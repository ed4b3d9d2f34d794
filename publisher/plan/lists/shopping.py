"""Turn a cutting list into what to buy, for one maker or a class, colour by colour, each sum
rounded up once."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from publisher.model import units
from publisher.model.pattern import YarnColour
from publisher.model.plan import BuyLine, CutLine, Plan
from publisher.plan.lists.cutting import CutRow, cut_rows


def shopping_list(
    cutting: Iterable[CutLine], colours: Sequence[YarnColour], times: float = 1.0
) -> tuple[BuyLine, ...]:
    """One line a colour that is cut, in the pattern's order: so many times what the printed rows of
    the cutting list come to, rounded up to whole metres, yards, grams and balls."""
    rows: dict[str, list[CutRow]] = {}
    for row in cut_rows(cutting):
        rows.setdefault(row.colour, []).append(row)
    return tuple(
        _buy(colour, rows[colour.letter], times) for colour in colours if colour.letter in rows
    )


def _buy(colour: YarnColour, rows: Sequence[CutRow], times: float) -> BuyLine:
    yarn = colour.yarn
    metres = times * sum(row.length_mm for row in rows) / 1000
    yards, ounces = yards_and_ounces(rows, yarn.grams_per_metre, times)
    on_a_ball = ball_metres(yarn.ball_metres, yarn.ball_grams, yarn.grams_per_metre)
    balls = whole_up(metres / on_a_ball) if on_a_ball else None
    return BuyLine(
        colour=colour.letter,
        yarn=yarn.key,
        length_m=whole_up(times * sum(row.metres for row in rows)),
        length_yd=yards,
        mass_g=whole_up(metres * yarn.grams_per_metre),
        mass_oz=ounces,
        balls=balls,
        price=None if balls is None or yarn.price is None else round(balls * yarn.price, 2),
        left_m=None if balls is None or not on_a_ball else balls * on_a_ball - metres,
    )


def yards_and_ounces(
    rows: Sequence[CutRow], grams_per_metre: float, times: float = 1.0
) -> tuple[float, float]:
    """Return what to buy of one colour in whole yards and tenths of an ounce, for its rows of the
    cutting list so many times."""
    yards = times * sum(row.yards for row in rows)
    grams = times * sum(row.length_mm for row in rows) / 1000 * grams_per_metre
    return whole_up(yards), units.round_to(grams / units.GRAMS_PER_OUNCE, 0.1, "up")


def ball_metres(metres: float | None, grams: float | None, grams_per_metre: float) -> float | None:
    """Return what is on a ball, by its length or else by its weight; None where neither is said."""
    return metres or (grams / grams_per_metre if grams else None)


def whole_up(value: float) -> int:
    """Up to the next whole number, but not for what only the arithmetic adds."""
    return math.ceil(round(value, 6))


def shop_for_class(plan: Plan, students: int, spare_percent: float) -> tuple[BuyLine, ...]:
    """One line a colour: what is cut for the kits of all students, and some to spare. What is cut
    has the allowance of the cutting list in it already.

    ValueError if there is not at least one student, or the spare is below nothing.
    """
    if students < 1 or spare_percent < 0:
        raise ValueError(f"{students} students with {spare_percent} % to spare")
    return shopping_list(plan.cutting_list, plan.colours, students * (1 + spare_percent / 100))
