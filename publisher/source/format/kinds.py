"""The kinds of pieces."""

from __future__ import annotations

from publisher.source.format.pieces import ChartTable
from publisher.source.format.steps import StepsTable

PIECE_KINDS: dict[str, type] = {"chart": ChartTable, "steps": StepsTable}
"""The tables of `[[pieces]]`, by their `kind`."""
