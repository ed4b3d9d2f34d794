"""Say what is wrong with a value of the wrong type, size or shape, and how to write it."""

from __future__ import annotations

import datetime
import math
import re
from collections.abc import Callable
from typing import Any

from pydantic_core import ErrorDetails

from publisher.source.format.lookup import PIECE_KINDS
from publisher.source.words import thing
from publisher.tables.findings import KeyPath
from publisher.tables.schema import KeyRule
from publisher.tables.words import nearest, shown

Said = tuple[str, str]
"""What is wrong, and what to do."""


def not_right(path: KeyPath, rule: KeyRule | None, detail: ErrorDetails) -> Said:
    return f"`{path[-1]}` can't be {shown(detail['input'])}", _as_written(rule)


def _as_written(rule: KeyRule | None) -> str:
    if rule is None:
        return "look at it again"
    first, *more = rule.example.split("\n")
    below = " with its lines below, and three quotes again below them" if more else ""
    return f"write it like this: {first}{below}"


def _not_text(path: KeyPath, rule: KeyRule | None, detail: ErrorDetails) -> Said:
    value, message = detail["input"], f"`{path[-1]}` must be a text in quotes"
    if isinstance(value, bool) or not isinstance(value, (int, float, datetime.date, datetime.time)):
        return f"{message}, not {shown(value)}", _as_written(rule)
    schema: Any = rule.schema if rule else {}
    fits = re.search(schema.get("pattern", ""), shown(value))
    return message, f'write {path[-1]} = "{shown(value)}"' if fits else _as_written(rule)


def _not_number(path: KeyPath, rule: KeyRule | None, detail: ErrorDetails) -> Said:
    value = detail["input"]
    if isinstance(value, str) and _is_number(value):
        return f"`{path[-1]}` has quotes round its number", f"write {path[-1]} = {value.strip()}"
    what = "a whole number" if detail["type"] == "int_type" else "a number"
    return f"`{path[-1]}` must be {what}, not {shown(value)}", _as_written(rule)


def _not_yes_or_no(path: KeyPath, rule: KeyRule | None, detail: ErrorDetails) -> Said:
    value = detail["input"]
    if isinstance(value, str) and value.lower() in ("true", "false"):
        message = f"`{path[-1]}` has quotes round its {value.lower()}"
        return message, f"write {path[-1]} = {value.lower()}"
    return f"`{path[-1]}` must be true or false, not {shown(value)}", _as_written(rule)


def _is_number(value: str) -> bool:
    try:
        return math.isfinite(float(value))
    except ValueError:
        return False


def _out_of_range(path: KeyPath, rule: KeyRule | None, detail: ErrorDetails) -> Said:
    value = detail["input"]
    if path[-1] == "format":
        return f"this file is of format {shown(value)}, not 1", "write format = 1"
    words = {"ge": "the least is", "le": "the most is"}
    ((bound, limit),) = detail["ctx"].items()
    message = f"`{path[-1]}` is {shown(value)}, but {words[bound]} {limit:.10g}"
    return message, _as_written(rule)


def _empty(path: KeyPath, rule: KeyRule | None, detail: ErrorDetails) -> Said:
    return f"`{path[-1]}` is empty", _as_written(rule)


def _too_long(path: KeyPath, rule: KeyRule | None, detail: ErrorDetails) -> Said:
    count, most = len(detail["input"]), detail["ctx"]["max_length"]
    return f"`{path[-1]}` has {count} characters, but {most} is the most", "shorten it"


def _misshapen(path: KeyPath, rule: KeyRule | None, detail: ErrorDetails) -> Said:
    example = f", such as {rule.example}" if rule else ""
    return (
        f"`{path[-1]}` can't be {shown(detail['input'])}",
        f"write {_SHAPES[str(path[-1])]}{example}",
    )


def _not_a_letter(path: KeyPath, rule: KeyRule | None, detail: ErrorDetails) -> Said:
    return f"{shown(detail['input'])} can't be a colour's letter", _as_written(rule)


def _control(path: KeyPath, rule: KeyRule | None, detail: ErrorDetails) -> Said:
    sign = ord(detail["ctx"]["sign"])
    what = {9: "a tab", 10: "a line end"}.get(sign, f"the invisible sign U+{sign:04X}")
    return f"`{path[-1]}` has {what} in it", "take it out, or put a blank in its place"


def _not_a_day(path: KeyPath, rule: KeyRule | None, detail: ErrorDetails) -> Said:
    value = detail["input"]
    try:
        day = datetime.date.fromisoformat(str(value)[:10])
    except ValueError:
        return f"`{path[-1]}` must be a date, not {shown(value)}", _as_written(rule)
    what = "quotes round it" if isinstance(value, str) else "a time of day"
    return f"`{path[-1]}` has {what}", f"write {path[-1]} = {day}"


def _not_a_choice(path: KeyPath, rule: KeyRule | None, detail: ErrorDetails) -> Said:
    value = detail["input"]
    choices = _choices(rule)
    near = nearest(value, map(str, choices)) if isinstance(value, str) else None
    if near:
        return f"`{path[-1]}` can't be {shown(value)}", f'did you mean "{near}"?'
    hint = f"it can be {' or '.join(map(shown, choices))}"
    if rule and "{" in rule.example:
        hint += f", or a table such as {rule.example}"
    return f"`{path[-1]}` can't be {shown(value)}", hint


def _choices(rule: KeyRule | None) -> list[object]:
    schema: Any = rule.schema if rule else {}
    while isinstance(schema.get("choices"), dict):
        schema = next(iter(schema["choices"].values()))
    return list(schema.get("expected", ()))


def _not_a_kind(path: KeyPath, rule: KeyRule | None, detail: ErrorDetails) -> Said:
    value = detail["input"]["kind"]
    near = nearest(value, PIECE_KINDS) if isinstance(value, str) else None
    hint = (
        f'did you mean "{near}"?' if near else f"it can be {' or '.join(map(shown, PIECE_KINDS))}"
    )
    return f"`kind` can't be {shown(value)}", hint


def _not_a_table(path: KeyPath, rule: KeyRule | None, detail: ErrorDetails) -> Said:
    match path:
        case ("colours" | "yarns" as group, name):
            return f"{thing(path)} must be a table", f"begin it with [{group}.{name}]"
        case ("pieces", int()):
            return "a piece must be a table", "begin each piece with a line [[pieces]]"
        case (*_, str(name), int()):
            return f"`{name}` must hold tables, not {shown(detail['input'])}", _BRACES
        case ("colours",):
            return "`colours` must be tables", "begin each with a line such as [colours.N]"
        case ("yarns",):
            return "`yarns` must be tables", "begin each with a line such as [yarns.cotton-3]"
    return f"`{path[-1]}` must be a table, not {shown(detail['input'])}", _as_written(rule)


def _not_a_list(path: KeyPath, rule: KeyRule | None, detail: ErrorDetails) -> Said:
    if len(path) > 1:
        return f"`{path[-1]}` must be a list in [brackets]", _as_written(rule)
    return (
        f"[{path[-1]}] needs two brackets on each side",
        f"write [[{path[-1]}]]; there can be several",
    )


SAYINGS: dict[str, Callable[[KeyPath, KeyRule | None, ErrorDetails], Said]] = {
    "string_type": _not_text,
    "string_too_short": _empty,
    "too_short": _empty,
    "string_too_long": _too_long,
    "string_pattern_mismatch": _misshapen,
    "letter": _not_a_letter,
    "control_character": _control,
    "int_type": _not_number,
    "float_type": _not_number,
    "bool_type": _not_yes_or_no,
    "greater_than_equal": _out_of_range,
    "less_than_equal": _out_of_range,
    "literal_error": _not_a_choice,
    "union_tag_invalid": _not_a_kind,
    "date_type": _not_a_day,
    "dataclass_type": _not_a_table,
    "dict_type": _not_a_table,
    "list_type": _not_a_list,
}

_BRACES = "write each in braces, such as { tie = …, on = [1, 2] } or { colour = … }"
_SHAPES = {
    "srgb": "# and six signs of 0 to 9 and a to f",
    "version": "two or three numbers with points between them",
    "currency": "the currency's three capital letters",
    "id": "small letters, figures and single hyphens",
    "terms": "small letters, figures and single hyphens",
}
