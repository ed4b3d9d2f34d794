"""Turn a pattern into its working plan: rows, yarn routes, ends, lengths, lists, cautions."""

from publisher.plan.make import make_plan

__all__ = ["make_plan"]
