"""Turn a pattern into its working plan: rows, yarn routes, ends, lengths, lists, cautions."""

from __future__ import annotations

from typing import TYPE_CHECKING

from publisher.lazy import homes

if TYPE_CHECKING:
    from publisher.plan.as_csv import cutting_list_csv
    from publisher.plan.as_json import plan_as_json
    from publisher.plan.counting import count_yarns
    from publisher.plan.limits import WhatIf, what_if
    from publisher.plan.make import make_plan

__all__ = ["WhatIf", "count_yarns", "cutting_list_csv", "make_plan", "plan_as_json", "what_if"]

__getattr__ = homes(
    __name__,
    {
        "WhatIf": "limits",
        "count_yarns": "counting",
        "cutting_list_csv": "as_csv",
        "make_plan": "make",
        "plan_as_json": "as_json",
        "what_if": "limits",
    },
)
