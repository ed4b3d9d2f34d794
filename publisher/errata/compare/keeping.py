"""Turn values into what JSON can hold, and back with care: every type and name is looked at."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from typing import Any, TypeVar

from publisher.tables.reader import build

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
    """The value again. ValueError says what is not as it was written.

    A field with a default may be missing: it was not there yet when this was written.
    """
    return build(kind, data)
