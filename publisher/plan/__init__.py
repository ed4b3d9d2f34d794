"""Turn a pattern into its working plan: rows, yarn routes, ends, lengths, lists, cautions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from publisher.lazy_exports import lazy_exports

if TYPE_CHECKING:
    from publisher.plan.as_json import plan_as_json
    from publisher.plan.chart import count_yarns
    from publisher.plan.lists.cutting import cutting_list_csv
    from publisher.plan.make import make_plan
    from publisher.plan.trials import WhatIf, what_if

__all__ = ["WhatIf", "count_yarns", "cutting_list_csv", "make_plan", "plan_as_json", "what_if"]

__getattr__ = lazy_exports(
    __name__,
    {
        "WhatIf": "trials",
        "count_yarns": "chart",
        "cutting_list_csv": "lists.cutting",
        "make_plan": "make",
        "plan_as_json": "as_json",
        "what_if": "trials",
    },
)
