"""Plan a pattern at several carry limits, to set ends against carried yarn."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from publisher.frozen import frozen
from publisher.model.pattern import ChartPiece, Pattern
from publisher.plan.make import make_plan


@frozen
class WhatIf:
    """The plan that one carry limit gives, for all pieces together (`make` counted in)."""

    columns: int
    yarns: int
    ends: int
    single_ends: int
    carried_mm: float
    cut_mm: float
    mass_g: int
    """To buy."""


def what_if(pattern: Pattern, columns: Iterable[int]) -> tuple[WhatIf, ...]:
    """The pattern planned anew for each limit of columns; a colour's own limit stays."""
    return tuple(_try(pattern, limit) for limit in columns)


def _try(pattern: Pattern, columns: int) -> WhatIf:
    pieces = tuple(
        replace(piece, carry=replace(piece.carry, columns=columns, along_row=False))
        if isinstance(piece, ChartPiece)
        else piece
        for piece in pattern.pieces
    )
    plan = make_plan(replace(pattern, pieces=pieces))
    yarns = [(yarn, piece.make) for piece in plan.charts for yarn in piece.yarns]
    return WhatIf(
        columns=columns,
        yarns=sum(make for _, make in yarns),
        ends=sum(len(piece.ends) * piece.make for piece in plan.charts),
        single_ends=sum(len(piece.single_ends) * piece.make for piece in plan.charts),
        carried_mm=sum(yarn.carried_mm * make for yarn, make in yarns),
        cut_mm=sum(line.count * line.length_mm for line in plan.cutting_list),
        mass_g=sum(round(line.mass_g) for line in plan.shopping),
    )
