"""Count the yarns that a chart takes, without the rest of its plan."""

from __future__ import annotations

from collections import Counter

from publisher.plan.chart import carry_limits, yarn_rules
from publisher.plan.routes import find_chains
from publisher.plan.rows import read_passages, read_rows
from publisher.source.pattern import ChartPiece, Pattern


def count_yarns(piece: ChartPiece, pattern: Pattern) -> int:
    """As many as `make_plan` finds for the piece: each has a start and a finish."""
    counts = Counter("".join(piece.cells))
    cell = yarn_rules(piece, pattern, counts).cell
    passages = read_passages(read_rows(piece.cells, piece.first_row_from, piece.order), piece.order)
    return len(find_chains(passages, carry_limits(piece, pattern), cell, piece.order))
