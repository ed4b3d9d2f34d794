"""Turn values into what JSON can hold, and back with care: every type and name is looked at."""

from __future__ import annotations

import dataclasses
import math
import types
import typing
from collections.abc import Mapping
from functools import cache
from typing import Any, TypeVar

_Value = TypeVar("_Value")

_PLACES = 3


def to_plain(value: object) -> Any:
    """Dataclasses as dicts, tuples as lists, numbers to a thousandth (whole ones without point)."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return {
            field.name: to_plain(getattr(value, field.name)) for field in dataclasses.fields(value)
        }
    if isinstance(value, Mapping):
        return {str(key): to_plain(one) for key, one in value.items()}
    if isinstance(value, tuple | list):
        return [to_plain(one) for one in value]
    if isinstance(value, float):
        rounded = round(value, _PLACES)
        return int(rounded) if rounded.is_integer() else rounded
    return value


def from_plain(kind: type[_Value], data: object) -> _Value:
    """The value again. ValueError says what is not as it was written."""
    value: _Value = _read(kind, data, kind.__name__)
    return value


def _read(kind: Any, data: Any, name: str) -> Any:
    origin, inner = typing.get_origin(kind), typing.get_args(kind)
    if origin in (typing.Union, types.UnionType):
        return None if data is None else _read(next(t for t in inner if t is not _NONE), data, name)
    if origin is typing.Literal:
        return data if data in inner else _wrong(name)
    if origin is tuple:
        return _tuple(inner, data, name)
    if origin is not None and issubclass(origin, Mapping):
        if not isinstance(data, dict):
            _wrong(name)
        return {key: _read(inner[1], one, f"{name}.{key}") for key, one in data.items()}
    if dataclasses.is_dataclass(kind):
        return _record(kind, data, name)
    if kind is float:
        number = type(data) in (int, float) and math.isfinite(data)
        return float(data) if number else _wrong(name)
    return data if type(data) is kind else _wrong(name)


_NONE = type(None)


def _tuple(inner: tuple[Any, ...], data: Any, name: str) -> tuple[Any, ...]:
    if not isinstance(data, list):
        _wrong(name)
    kinds = [inner[0]] * len(data) if inner[1:] == (Ellipsis,) else list(inner)
    if len(kinds) != len(data):
        _wrong(name)
    return tuple(
        _read(kind, one, f"{name}[{index}]")
        for index, (kind, one) in enumerate(zip(kinds, data, strict=True))
    )


def _record(kind: Any, data: Any, name: str) -> Any:
    """Read a dataclass. A field with a default may be missing: it was not there yet when this
    was written."""
    hints, needed = _hints(kind), _needed(kind)
    if not isinstance(data, dict) or not needed <= data.keys() <= hints.keys():
        _wrong(name)
    return kind(**{key: _read(hints[key], one, f"{name}.{key}") for key, one in data.items()})


@cache
def _needed(kind: Any) -> frozenset[str]:
    missing = dataclasses.MISSING
    return frozenset(
        field.name
        for field in dataclasses.fields(kind)
        if field.default is missing and field.default_factory is missing
    )


@cache
def _hints(kind: Any) -> dict[str, Any]:
    return typing.get_type_hints(kind)


def _wrong(name: str) -> typing.NoReturn:
    raise ValueError(f"{name} is not as it was written")
