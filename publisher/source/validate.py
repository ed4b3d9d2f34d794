"""Turn a TOML table into a table of the format, mending what is wrong so that all of it shows."""

from __future__ import annotations

from typing import Any, TypeVar

from pydantic_core import ErrorDetails, SchemaValidator, ValidationError

from publisher.source.format.lookup import table_at
from publisher.tables.findings import Finding, Findings, KeyPath
from publisher.tables.schema import TAG, required_keys, stand_ins, table_schema

Table = TypeVar("Table")
MOST_TOLD = 100
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
    """The file's table; what is wrong is found, and stood in for so that the reading can go on.

    None if no table can be made of it. `data` is changed.
    """
    for _ in range(_MOST_ROUNDS):
        try:
            result: Table = validator(table).validate_python(data)
        except ValidationError as error:
            _find(table, error.errors(include_url=False), data, file, findings)
        else:
            return result
    return None


def _find(
    table: type, errors: list[ErrorDetails], data: dict[str, Any], file: str, findings: Findings
) -> None:
    """Say what is wrong, and mend it."""
    from publisher.source.key_messages import likely_kind, meant, say_wrong

    found = [(key_path(detail["loc"], data), detail) for detail in errors]
    unknown = [path for path, detail in found if detail["type"] == "unexpected_keyword_argument"]
    renamed = {(*path[:-1], near): path for path in unknown if (near := meant(table, path, data))}
    of_no_kind = [(path, d["input"]) for path, d in found if d["type"] == "union_tag_invalid"]
    kinds = {path: kind for path, piece in of_no_kind if (kind := likely_kind(piece))}
    told = [(p, d) for p, d in found if d["type"] != "missing" or p not in renamed]
    for path, detail in told[:MOST_TOLD]:
        message, hint = say_wrong(table, path, detail, data)
        if detail["type"] == "union_tag_invalid":
            findings.add(file, (*path, "kind"), message, hint)
            if path not in kinds:
                findings.pass_over(file, path)
        else:
            findings.add(file, path, message, hint)
    if len(told) > MOST_TOLD:
        message = f"{len(told) - MOST_TOLD:,} more values of this file are wrong"
        findings.add_inside(Finding(file, told[MOST_TOLD][0], message, "mend the others first"))
    for right, path in renamed.items():
        _rename(data, path, right, file, findings)
    for path, kind in kinds.items():
        piece = _parent(data, (*path, "kind"))
        piece["kind"] = kind
    for path, _ in found:
        if path not in renamed and path not in kinds:
            _mend(table, data, path)


def _rename(
    data: dict[str, Any], path: KeyPath, right: KeyPath, file: str, findings: Findings
) -> None:
    """Read what stands under a misspelt key as what was meant, where that is missing."""
    parent = _parent(data, path)
    if not isinstance(parent, dict) or path[-1] not in parent:
        return
    value, there = parent.pop(path[-1]), parent.get(right[-1])
    if there is None:
        parent[right[-1]] = value
        findings.moved[file, right] = path
    elif isinstance(value, dict) and isinstance(there, dict):
        for key in [key for key in value if key not in there]:  # as they stand in the file
            there[key] = value[key]
            findings.moved[file, (*right, key)] = (*path, key)


def key_path(location: tuple[str | int, ...], data: Any) -> KeyPath:
    """The way to a wrong value in a file's own keys: without the validator's names of branches."""
    path: list[str | int] = []
    here = data
    for part in location:
        inside = isinstance(here, dict) and part in here
        if not inside and isinstance(part, str) and (part.startswith(TAG) or part == "[key]"):
            continue
        path.append(part)
        listed = isinstance(here, list) and isinstance(part, int)
        here = here[part] if inside or listed else None
    return tuple(path)


def _parent(data: dict[str, Any], path: KeyPath) -> Any:
    """The table or list that a value stands in; None if it is there no more."""
    parent: Any = data
    for part in path[:-1]:
        try:
            parent = parent[part]
        except (KeyError, IndexError, TypeError):
            return None
    return parent


def _mend(root: type, data: dict[str, Any], path: KeyPath) -> None:
    """Put a stand-in for a wrong or missing value, or take it out."""
    parent, last = _parent(data, path), path[-1]
    owner, inner = table_at(root, path[:-1], data), table_at(root, path, data)
    if isinstance(parent, list) and inner:
        parent[int(last)] = stand_ins(inner)
    elif isinstance(parent, list):
        _mend(root, data, path[:-1])
    elif not isinstance(parent, dict):
        return
    elif owner and last in required_keys(owner):
        parent[last] = stand_ins(owner)[str(last)]
    elif inner and not owner and not isinstance(parent.get(last, {}), dict):
        parent[last] = stand_ins(inner)
    else:
        parent.pop(last, None)
