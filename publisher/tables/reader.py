"""Read a table of TOML or JSON into a value, mending what is wrong so that all of it shows."""

from __future__ import annotations

import copy
from collections.abc import Mapping
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, TypeVar

from publisher.tables.findings import Finding, Findings, KeyPath
from publisher.tables.schema import PLAIN, TAG, Schema, required_keys, stand_ins, table_schema
from publisher.tables.shape import Shape, kinds, value_at

if TYPE_CHECKING:
    from pydantic_core import ErrorDetails, SchemaValidator

    _Found = tuple[KeyPath, ErrorDetails]
    """The way to what is wrong, and what the validator says of it."""

Table = TypeVar("Table")
MOST_TOLD = 100
_MOST_ROUNDS = 20
_validators: dict[tuple[type, int], SchemaValidator] = {}


def read_table(
    kind: type[Table],
    data: Mapping[str, Any],
    file: str,
    findings: Findings,
    *,
    leaves: Mapping[Any, Schema] = PLAIN,
    like: Mapping[str, Any] = MappingProxyType({}),
    at: KeyPath = (),
) -> Table | None:
    """Fill a dataclass from a file's table: all that is wrong is found at its key.

    What is wrong is stood in for, so that the reading can go on; None if no value can be made.
    `leaves`: schemas of values by their annotation; `like`: a right table, to take examples from;
    `at`: the way to the table in its file.
    """
    from pydantic_core import ValidationError

    validator, before = _validator(kind, leaves), None
    shape = Shape(kind, data, leaves, like, at)
    for _ in range(_MOST_ROUNDS):
        try:
            value: Table = validator.validate_python(shape.data)
        except ValidationError as error:
            errors = error.errors(include_url=False)
            if (found := [detail["loc"] for detail in errors]) == before:
                return None
            if before is None:
                shape = Shape(kind, copy.deepcopy(dict(data)), leaves, like, at)
            before = found
            _find(shape, errors, file, findings)
        else:
            return value
    return None


def build(kind: type[Table], data: object) -> Table:
    """Fill a dataclass from a table that no person writes; ValueError tells what of it is not as
    it was written."""
    from pydantic_core import ValidationError

    try:
        value: Table = _validator(kind, PLAIN).validate_python(data)
    except ValidationError as error:
        way = ".".join(map(str, (kind.__name__, *error.errors()[0]["loc"])))
        raise ValueError(f"{way} is not as it was written") from None
    return value


def _validator(kind: type, leaves: Mapping[Any, Schema]) -> SchemaValidator:
    """The validator of a file's table, built once."""
    both = kind, id(leaves)
    if both not in _validators:
        from pydantic_core import SchemaValidator

        _validators[both] = SchemaValidator(table_schema(kind, leaves))
    return _validators[both]


def _find(shape: Shape, errors: list[ErrorDetails], file: str, findings: Findings) -> None:
    """Say what is wrong, and mend it."""
    from publisher.tables.messages import likely_kind, meant, say_wrong

    at = shape.at
    found = [(_key_path(detail["loc"], shape.data), detail) for detail in errors]
    found = _without_kindless(shape, found, file, findings)
    unknown = [path for path, detail in found if detail["type"] == "unexpected_keyword_argument"]
    renamed = {(*path[:-1], near): path for path in unknown if (near := meant(shape, path))}
    of_no_kind = [path for path, detail in found if detail["type"] == "union_tag_invalid"]
    likely = {path: kind for path in of_no_kind if (kind := likely_kind(shape, path))}
    told = [(p, d) for p, d in found if d["type"] != "missing" or p not in renamed]
    for path, detail in told[:MOST_TOLD]:
        message, hint = say_wrong(shape, path, detail)
        if detail["type"] == "union_tag_invalid":
            findings.add(file, (*at, *path, "kind"), message, hint)
            if path not in likely:
                findings.pass_over(file, (*at, *path))
        else:
            findings.add(file, (*at, *path), message, hint)
    if len(told) > MOST_TOLD:
        message = f"{len(told) - MOST_TOLD:,} more values of this file are wrong"
        findings.add_inside(
            Finding(file, (*at, *told[MOST_TOLD][0]), message, "mend the others first")
        )
    for right, path in renamed.items():
        _rename(shape, path, right, file, findings)
    for path, kind in likely.items():
        value_at(shape.data, path)["kind"] = kind
    for path, _ in found:
        if path not in renamed and path not in likely:
            _mend(shape, path)


def _without_kindless(
    shape: Shape, found: list[_Found], file: str, findings: Findings
) -> list[_Found]:
    """Leave out what was found inside tables that don't say of what kind they are, and most likely
    are not of the usual one: there it follows from that. They get their kind."""
    from publisher.tables.messages import likely_kind, meant, say_missing

    for way in dict.fromkeys(path[:n] for path, _ in found for n in range(1, len(path) + 1)):
        here, tables = value_at(shape.data, way), shape.tables(way)
        if len(tables) < 2 or not isinstance(here, dict) or "kind" in here:
            continue
        kind = likely_kind(shape, way)
        if kind in (None, kinds(tables[0])[0]):
            continue
        below = [(path, detail) for path, detail in found if path[: len(way)] == way]
        misspelt = [one for one in below if one[0][:-1] == way and meant(shape, one[0]) == "kind"]
        found = [one for one in found if one not in below or one in misspelt]
        if not misspelt:
            here["kind"] = kind
            findings.add(file, (*shape.at, *way, "kind"), *say_missing(shape, (*way, "kind")))
    return found


def _rename(shape: Shape, path: KeyPath, right: KeyPath, file: str, findings: Findings) -> None:
    """Read what stands under a misspelt key as what was meant, where that is missing."""
    parent, at = value_at(shape.data, path[:-1]), shape.at
    if not isinstance(parent, dict) or path[-1] not in parent:
        return
    value, there = parent.pop(path[-1]), parent.get(right[-1])
    if there is None:
        parent[right[-1]] = value
        findings.moved[file, (*at, *right)] = (*at, *path)
    elif isinstance(value, dict) and isinstance(there, dict):
        for key in [key for key in value if key not in there]:  # as they stand in the file
            there[key] = value[key]
            findings.moved[file, (*at, *right, key)] = (*at, *path, key)


def _key_path(location: tuple[str | int, ...], data: Any) -> KeyPath:
    """The way to a wrong value in a file's own keys: without the validator's names of branches."""
    path: list[str | int] = []
    here = data
    for part in location:
        inside = isinstance(here, dict) and part in here
        if not inside and isinstance(part, str) and (part.startswith(TAG) or part == "[key]"):
            continue
        path.append(part)
        here = value_at(here, (part,))
    return tuple(path)


def _mend(shape: Shape, path: KeyPath) -> None:
    """Put a stand-in for a wrong or missing value, or take it out."""
    parent, last = value_at(shape.data, path[:-1]), path[-1]
    owner, inner = shape.table(path[:-1]), shape.table(path)
    if isinstance(parent, list) and inner:
        parent[int(last)] = stand_ins(inner)
    elif isinstance(parent, list):
        _mend(shape, path[:-1])
    elif not isinstance(parent, dict):
        return
    elif owner and last in required_keys(owner):
        parent[last] = stand_ins(owner)[str(last)]
    elif inner and not owner and not isinstance(parent.get(last, {}), dict):
        parent[last] = stand_ins(inner)
    else:
        parent.pop(last, None)
