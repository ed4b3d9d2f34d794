"""Turn one maker's cutting list into what a whole class must buy."""

from __future__ import annotations

from dataclasses import replace

from publisher.plan.shopping import shopping_list
from publisher.plan.values import BuyLine, Plan


def shop_for_class(plan: Plan, students: int, spare_percent: float) -> tuple[BuyLine, ...]:
    """One line a colour for `students` kits and some spare, balls rounded up for the class.

    ValueError if there is not at least one student, or the spare is below nothing.
    """
    if students < 1 or spare_percent < 0:
        raise ValueError(f"{students} students with {spare_percent} % to spare")
    spare = 1 + spare_percent / 100
    lines = [
        replace(line, count=line.count * students, length_mm=line.length_mm * spare)
        for line in plan.cutting_list
    ]
    return shopping_list(lines, plan.colours)
