"""How the steps of a part tie a knot: on how many cords, and what that does to their order."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Literal

from publisher.frozen import frozen
from publisher.tables.schema import choice, key, number, some, whole


@frozen
class TyingTable:
    """`[steps]`: how the steps of a part tie a knot."""

    cords: Sequence[int] = key(
        some(whole(1, 99), 2, least=2),
        "On how many cords (`on`) it is tied: the least and the most.",
        "cords = [4, 6]",
        usual=(),
    )
    travels: Literal["", "leader", "worker"] = key(
        choice("leader", "worker"),
        "One more cord: each of `on` is hitched round a leader, a worker round each of them.",
        'travels = "leader"',
        usual="",
    )
    slope_degrees: float = key(
        number(0, 89), "How steeply a leader is led down.", "slope_degrees = 45", usual=0.0
    )
    gathers: bool = False
    """What was hitched joins the leader."""
    around: bool = False
    """The outer two knot round those between: round a single one where a step says so."""
    faces: bool = False
    """It has a left-facing and a right-facing form."""
    form: Literal["hanging", "bundle", "pair"] = key(
        choice("hanging", "bundle", "pair"),
        "Its cords hang from top to bottom; all go the way of the one that is drawn; or two "
        "come in from two sides.",
        'form = "bundle"',
        usual="hanging",
    )


@frozen
class Tying(TyingTable):
    """The rule of a knot. `out`: the places that the cords came in at, from the left as they go
    out, where that is another order (facing left)."""

    out: tuple[int, ...] = ()

    def __bool__(self) -> bool:
        """Can a step tie it at all?"""
        return self.most > 0

    @property
    def least(self) -> int:
        return min(self.cords, default=0)

    @property
    def most(self) -> int:
        return max(self.cords, default=0)

    def order_out(self, count: int, facing: str) -> tuple[int, ...]:
        """Return the places (from 1) that so many cords came in at, from the left as they go out.

        The outer two of a knot round fillers may change places, however many there are.
        """
        if not self.out:
            return tuple(range(1, count + 1))
        out = (count, *range(2, count), 1) if self.around else self.out
        return out if facing == "left" else tuple(count + 1 - place for place in reversed(out))


NOT_TIED = Tying()
"""No step can tie it."""
