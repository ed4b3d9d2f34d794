"""Build a look from the tables of look.toml and what an edition changes in it."""

from __future__ import annotations

import dataclasses
import types
import typing
from collections.abc import Mapping
from functools import cache
from typing import Any

from publisher.drawing.look_rules import LookError, LookFault, check_look, not_as_named
from publisher.model.colour import Colour
from publisher.model.look import Look


def read_look_tables(data: Mapping[str, Any], paper: str) -> Look:
    """Build a look from look.toml's tables; LookError names every key that is wrong."""
    tables = dict(data)
    papers = tables.pop("papers", {})
    if not isinstance(papers, Mapping) or paper not in papers:
        raise LookError(LookFault(f"papers.{paper}", "is missing", "add it"))
    tables["paper"] = papers[paper]
    faults: list[LookFault] = []
    try:
        look = typing.cast(Look, _build(Look, tables, "", faults))
        if not faults:
            faults += check_look(look)
    except LookError as error:
        faults += error.faults
    if faults:
        raise LookError(*(fault.on_paper(paper) for fault in faults))
    return dataclasses.replace(look, key=repr(tables))


def _build(kind: Any, data: Any, key: str, faults: list[LookFault]) -> Any:
    """Fill a dataclass, mapping or plain value from a table, strictly. LookError if it is none of
    the kind; what is wrong inside of it is added to the `faults`."""
    origin = typing.get_origin(kind)
    if dataclasses.is_dataclass(kind) and kind is not Colour:
        return _build_record(kind, data, key, faults)
    if origin is not None and issubclass(origin, Mapping):
        if not isinstance(data, Mapping):
            raise LookError(LookFault(key, "must be a table"))
        inner = typing.get_args(kind)[1]
        values = {
            name: _build_part(inner, value, f"{key}.{name}", faults) for name, value in data.items()
        }
        return types.MappingProxyType(values)
    if kind is Colour:
        return _build_colour(data, key)
    if kind is float and isinstance(data, int) and not isinstance(data, bool):
        data = float(data)
    if not isinstance(data, kind) or (kind is int and isinstance(data, bool)):
        raise LookError(LookFault(key, f"must be {_NAMES[kind]}, not {data!r}"))
    if kind in (float, int) and not 0 <= data < _LARGEST:
        raise LookError(LookFault(key, f"must be from 0 to {_LARGEST:g}, not {data!r}"))
    return data


def _build_part(kind: Any, data: Any, key: str, faults: list[LookFault]) -> Any:
    """A value in a table: the others there are read too if it is wrong."""
    try:
        return _build(kind, data, key, faults)
    except LookError as error:
        faults += error.faults
        return None


_NAMES = {float: "a number", int: "a whole number", str: "a text", bool: "true or false"}
_LARGEST = 10_000
"""Sizes in mm and pt are less: more is a slip, or no number at all."""


def _build_colour(data: Any, key: str) -> Colour:
    try:
        return Colour.from_hex(data)
    except (TypeError, ValueError):
        raise LookError(LookFault(key, f"must be a colour like #22282c, not {data!r}")) from None


def _build_record(kind: Any, data: Any, key: str, faults: list[LookFault]) -> Any:
    if not isinstance(data, Mapping):
        raise LookError(LookFault(key, "must be a table"))
    hints = _hints(kind)
    fields = {field.name: field for field in dataclasses.fields(kind)}
    dot = f"{key}." if key else ""
    missing = [
        name
        for name, field in fields.items()
        if name not in data and field.default is dataclasses.MISSING
    ]
    unknown = [name for name in data if name not in fields]
    faults += not_as_named(dot, missing, unknown, fields)
    values = {
        name: _build_part(hints[name], data[name], f"{dot}{name}", faults)
        for name in fields
        if name in data
    }
    return kind(**values) if not missing else None


@cache
def _hints(kind: Any) -> dict[str, Any]:
    return typing.get_type_hints(kind)
