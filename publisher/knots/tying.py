"""How the steps of a part tie a knot: on how many cords, and what that does to their order."""

from __future__ import annotations

from typing import Literal

from publisher.frozen import frozen

Travels = Literal["", "leader", "worker"]
Form = Literal["hanging", "bundle", "pair"]
FORMS: tuple[Form, ...] = ("hanging", "bundle", "pair")


@frozen
class Tying:
    """The rule of a knot that steps can tie on `least` to `most` cords (a step's `on`).

    `travels`: one more cord, the leader that each of `on` is hitched round or the worker that is
    hitched round each of them. A leader is led down by `slope_degrees`; where it `gathers`, what
    was tied joins it. `around`: the outer two cords knot round those between them, which may be a
    single one where a step says so. `faces`: there is a left-facing and a right-facing form.

    `form`: the cords hang from the top of its drawing to the bottom; all go the way of the one
    that is drawn, in a bundle; or a pair comes in from two sides. `out`: the places that the cords
    came in at, from the left as they go out, where that is another order (facing left).
    """

    least: int
    most: int
    travels: Travels = ""
    slope_degrees: float = 0.0
    gathers: bool = False
    around: bool = False
    faces: bool = False
    form: Form = "hanging"
    out: tuple[int, ...] = ()

    def __bool__(self) -> bool:
        """Can a step tie it at all?"""
        return self.most > 0

    def order_out(self, count: int, facing: str) -> tuple[int, ...]:
        """Return the places (from 1) that so many cords came in at, from the left as they go out.

        The outer two of a knot round fillers may change places, however many there are.
        """
        if not self.out:
            return tuple(range(1, count + 1))
        out = (count, *range(2, count), 1) if self.around else self.out
        return out if facing == "left" else tuple(count + 1 - place for place in reversed(out))


NOT_TIED = Tying(0, 0)
"""No step can tie it."""
