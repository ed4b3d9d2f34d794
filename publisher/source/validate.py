"""Turn a TOML table into a table of the format, mending what is wrong so that all of it shows."""

from __future__ import annotations

import copy
from typing import Any, TypeVar

from pydantic_core import SchemaValidator, ValidationError

from publisher.source.findings import Findings, KeyPath
from publisher.source.format.lookup import table_at
from publisher.source.format.schema import TAG, required_keys, rules, stand_ins, table_schema
from publisher.source.wording import say_wrong

Table = TypeVar("Table")
_MOST_ROUNDS = 20


_validators: dict[type, SchemaValidator] = {}


def validator(table: type) -> SchemaValidator:
    """The validator of a file's table, built once."""
    if table not in _validators:
        _validators[table] = SchemaValidator(table_schema(table))
    return _validators[table]


def validate(
    table: type[Table], data: dict[str, Any], file: str, findings: Findings
) -> Table | None:
    """The file's table; what is wrong is found, and stood in for where that can be done.

    None if no table can be made of it. `data` is changed.
    """
    for _ in range(_MOST_ROUNDS):
        try:
            result: Table = validator(table).validate_python(data)
        except ValidationError as error:
            for detail in error.errors(include_url=False):
                path = key_path(detail["loc"], data)
                message, hint = say_wrong(table, path, detail, data)
                findings.add(file, path, message, hint)
                if not _mend(table, data, path):
                    return None
        else:
            return result
    return None


def key_path(location: tuple[str | int, ...], data: Any) -> KeyPath:
    """The way to a wrong value in a file's own keys: without the validator's names of branches."""
    path: list[str | int] = []
    here: Any = data
    for part in location:
        inside = isinstance(here, dict) and part in here
        if not inside and isinstance(part, str) and (part.startswith(TAG) or part == "[key]"):
            continue
        path.append(part)
        listed = isinstance(here, list) and isinstance(part, int)
        here = here[part] if inside or listed else None
    return tuple(path)


def _mend(root: type, data: dict[str, Any], path: KeyPath) -> bool:
    """Put a stand-in for a wrong or missing value, or take it out. False: that can't be done."""
    if not path:
        return False
    *way, last = path
    parent: Any = data
    for part in way:
        parent = parent[part]
    if not isinstance(parent, dict):
        return False
    owner, inner = table_at(root, tuple(way)), table_at(root, path)
    if owner and last in required_keys(owner):
        parent[last] = copy.deepcopy(rules(owner)[str(last)].stand_in)
    elif inner and not owner and last in parent and not isinstance(parent[last], dict):
        parent[last] = stand_ins(inner)
    else:
        parent.pop(last, None)
    return True
