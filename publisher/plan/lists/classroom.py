"""Turn one maker's cutting list into what a whole class must buy."""

from __future__ import annotations

from publisher.model.plan import BuyLine, Plan
from publisher.plan.lists.shopping import shopping_list


def shop_for_class(plan: Plan, students: int, spare_percent: float) -> tuple[BuyLine, ...]:
    """One line a colour: what is cut for the kits of all students, and some to spare. What is cut
    has the allowance of the cutting list in it already.

    ValueError if there is not at least one student, or the spare is below nothing.
    """
    if students < 1 or spare_percent < 0:
        raise ValueError(f"{students} students with {spare_percent} % to spare")
    return shopping_list(plan.cutting_list, plan.colours, students * (1 + spare_percent / 100))
