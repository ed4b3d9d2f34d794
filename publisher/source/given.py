"""What was read of a pattern and its house, and how the one lies over the other."""

from __future__ import annotations

import dataclasses
from collections.abc import Sequence
from dataclasses import replace
from typing import Any, TypeVar

from publisher.frozen import frozen
from publisher.model.pattern import CarryLimit
from publisher.source.format.files import HouseTable, PatternTable
from publisher.source.format.parts import CarryTable, CarryWord
from publisher.source.format.pieces import ChartTable
from publisher.source.own_knots import OwnKnots
from publisher.tables.findings import Findings

Value = TypeVar("Value")


@frozen
class Given:
    """The tables that were read: the pattern's file and table, its house's, and what is wrong so
    far."""

    findings: Findings
    file: str
    table: PatternTable
    chart_lines: tuple[int, ...]
    """The line that each chart's text begins on, in the pieces' order."""
    house_file: str
    house: HouseTable
    house_known: bool
    """False: house.toml is there, but could not be read, so nobody knows what is in it."""
    knots: OwnKnots

    def find_missing(self, key: str) -> None:
        """Find that the pattern has nothing under a key."""
        from publisher.tables.messages import say_missing
        from publisher.tables.shape import Shape

        self.findings.add(self.file, (key,), *say_missing(Shape(PatternTable), (key,)))


def layered(made: type[Value], *tables: Any) -> Value:
    """A value from its own table first, then from those behind it, then from its defaults."""
    given: dict[str, Any] = {}
    for table in reversed(tables):
        for field in dataclasses.fields(table) if table else ():
            value = getattr(table, field.name)
            if value is not None:
                given[field.name] = value
    return made(**given)


def carry_limit(base: CarryLimit, own: CarryTable | CarryWord | None) -> CarryLimit:
    """A carry as it is written, over the one that would hold without it."""
    match own:
        case None:
            return base
        case "never":
            return CarryLimit(0, 0)
        case "row":
            return replace(base, along_row=True)
        case _:
            return CarryLimit(
                base.columns if own.columns is None else own.columns,
                base.rows if own.rows is None else own.rows,
                base.along_row and own.columns is None,
            )


def piece_carry(given: Given, piece: ChartTable) -> CarryLimit:
    """The limit of one piece: its own, over the pattern's, over the house's."""
    limit = CarryLimit()
    for own in (given.house.carry, given.table.carry, piece.carry):
        limit = carry_limit(limit, own)
    return limit


def narrowest(limits: Sequence[CarryLimit]) -> CarryLimit:
    """Return what holds in every piece: a colour's own carry leaves the rest as it is there."""
    if not limits:
        return CarryLimit()
    return CarryLimit(
        min(limit.columns for limit in limits),
        min(limit.rows for limit in limits),
        all(limit.along_row for limit in limits),
    )
