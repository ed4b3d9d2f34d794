"""Turn a pattern into its working plan: rows, yarn routes, ends, lengths, lists, cautions."""

from publisher.plan.as_csv import cutting_list_csv
from publisher.plan.as_json import plan_as_json
from publisher.plan.make import make_plan
from publisher.plan.what_if import WhatIf, what_if

__all__ = ["WhatIf", "cutting_list_csv", "make_plan", "plan_as_json", "what_if"]
