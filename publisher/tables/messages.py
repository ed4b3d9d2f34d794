"""Say what is wrong at a key, and what to do, in words that whoever writes the file understands."""

from __future__ import annotations

import datetime
import math
import re
from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from publisher.frozen import frozen
from publisher.tables.findings import KeyPath
from publisher.tables.schema import NAMES, KeyRule, Schema, required_keys, rules
from publisher.tables.shape import Shape, kinds, value_at
from publisher.tables.words import in_unit_of, listed, nearest, nearest_key, on_one_line, shown

if TYPE_CHECKING:
    from pydantic_core import ErrorDetails

Message = tuple[str, str]
"""What is wrong, and what to do."""


def say_wrong(shape: Shape, path: KeyPath, detail: ErrorDetails) -> Message:
    """Return what the validator found at a key, in words."""
    kind = detail["type"]
    if kind == "missing":
        return say_missing(shape, path)
    if kind == "unexpected_keyword_argument":
        return _unknown(shape, path)
    if detail["loc"][-1:] == ("[key]",):
        return _bad_name(shape, path)
    in_list = bool(path) and isinstance(path[-1], int) and not shape.tables(path)
    path = path[:-1] if in_list else path  # the list has the name
    spot = _Spot(shape, path, shape.rule(path), detail["input"], in_list)
    return _MESSAGES.get(kind, _not_right)(spot, detail.get("ctx", {}))


def say_missing(shape: Shape, path: KeyPath) -> Message:
    """Return that a key is missing, and how to add it."""
    name, rule, owner = str(path[-1]), shape.rule(path), shape.thing(path[:-1])
    if rule.example.startswith(f"[{name}.") and shape.is_mapping(path):
        message, add = f"{owner} has no {name}", f"add each one under a line such as {rule.example}"
    elif rule.example.startswith("[["):
        message, add = f"{owner} has no {name}", f"add each one under a line {rule.example}"
    else:
        message = f"{owner} has no `{name}`"
        add = f"add a line such as {rule.example}" if rule.example else "add it"
    return message, rule.add or add


def meant(shape: Shape, path: KeyPath) -> str | None:
    """The key that was most likely meant by one that nobody knows."""
    return nearest_key(str(path[-1]), rules(shape.table(path[:-1]) or shape.root))


def likely_kind(shape: Shape, path: KeyPath) -> str | None:
    """The kind that a table most likely is of, by the keys that only one kind has, or by the kind
    it is said to be of, which nobody knows."""
    here, tables = value_at(shape.data, path), shape.tables(path)
    for table in tables:
        others = {key for other in tables if other is not table for key in rules(other)}
        if any(key in here for key in rules(table) if key not in others):
            return kinds(table)[0]
    said = here.get("kind")
    return nearest(said, [kinds(table)[0] for table in tables]) if isinstance(said, str) else None


def say_unknown(name: str, near: str | None, otherwise: Message) -> Message:
    """Return that a name is none of those that are known."""
    if near:
        return f"nothing here is called `{on_one_line(name)}`", f"did you mean `{near}`?"
    return otherwise


def _unknown(shape: Shape, path: KeyPath) -> Message:
    table, name = shape.table(path[:-1]) or shape.root, str(path[-1])
    message = f"nothing in {shape.any_one(path[:-1])} is called `{on_one_line(name)}`"
    home = next(shape.homes(name), None)
    needed = required_keys(table)
    known = sorted(rules(table), key=lambda key: key not in needed)
    hint = f"it belongs {home}" if home else f"take it out, or use one of {listed(known, 20)}"
    return say_unknown(name, meant(shape, path), (message, hint))


def _bad_name(shape: Shape, path: KeyPath) -> Message:
    group, example = shape.one(path), shape.rule(path[:-1]).example
    what = "letter" if re.fullmatch(r"\[\w+\.\w\]", example) else "name"
    begin = f"begin each {group} with its one letter, as in {example}"
    hint = begin if what == "letter" else f"use a short one, as in {example}"
    return f"{shown(path[-1])} can't be a {group}'s {what}", hint


@frozen
class _Spot:
    """A key, its rule, and the value that is wrong."""

    shape: Shape
    path: KeyPath
    rule: KeyRule
    value: Any
    in_list: bool = False
    """The value is one of the key's list."""

    @property
    def name(self) -> str:
        return str(self.path[-1])

    @property
    def as_written(self) -> str:
        """The line that writes it right."""
        if not self.rule.example:
            return "look at it again"
        first, *more = self.rule.example.split("\n")
        below = " with its lines below, and three quotes again below them" if more else ""
        return f"write it like this: {first}{below}"


_Context = dict[str, Any]


def _not_right(spot: _Spot, context: _Context) -> Message:
    return f"`{spot.name}` can't be {shown(spot.value)}", spot.as_written


def _refused(spot: _Spot, context: _Context) -> Message:
    """Pass on the words of a function of the schema's own."""
    return f"`{spot.name}` {context['error']}", spot.as_written


def _not_text(spot: _Spot, context: _Context) -> Message:
    value, message = spot.value, f"`{spot.name}` must be a text in quotes"
    plain = isinstance(value, int | float | datetime.date | datetime.time)
    if spot.in_list or isinstance(value, bool) or not plain:
        return f"{message}, not {shown(value)}", spot.as_written
    fits = re.search(_leaf(spot.rule.schema).get("pattern", ""), shown(value))
    return message, f'write {spot.name} = "{shown(value)}"' if fits else spot.as_written


def _not_whole(spot: _Spot, context: _Context) -> Message:
    return _not_number(spot, context, "a whole number")


def _not_number(spot: _Spot, context: _Context, what: str = "a number") -> Message:
    value = spot.value
    if isinstance(value, str) and _is_number(value):
        message = f"`{spot.name}` has quotes round its number"
        hint = "take them off" if spot.in_list else f"write {spot.name} = {value.strip()}"
        return message, hint
    converted = in_unit_of(spot.name, value) if isinstance(value, str) else None
    number_alone = converted if spot.in_list else f"{spot.name} = {converted}"
    remedy = spot.as_written if converted is None else f"write {number_alone}"
    return f"`{spot.name}` must be {what}, not {shown(value)}", remedy


def _is_number(value: str) -> bool:
    try:
        return math.isfinite(float(value))
    except ValueError:
        return False


def _not_yes_or_no(spot: _Spot, context: _Context) -> Message:
    value = spot.value
    if isinstance(value, str) and value.lower() in ("true", "false"):
        message = f"`{spot.name}` has quotes round its {value.lower()}"
        return message, f"write {spot.name} = {value.lower()}"
    return f"`{spot.name}` must be true or false, not {shown(value)}", spot.as_written


def _out_of_range(spot: _Spot, context: _Context) -> Message:
    if spot.name == "format":
        return f"this file is of format {shown(spot.value)}, not 1", "write format = 1"
    words = {"ge": "the least is", "le": "the most is"}
    ((bound, limit),) = context.items()
    message = f"`{spot.name}` is {shown(spot.value)}, but {words[bound]} {limit:.10g}"
    return message, spot.as_written


def _too_short(spot: _Spot, context: _Context) -> Message:
    if not spot.value or isinstance(spot.value, str):
        return f"`{spot.name}` is empty", spot.as_written
    few = f"`{spot.name}` has too few values: {len(spot.value)}"
    return f"{few}, but {context['min_length']} is the least", spot.as_written


def _too_long(spot: _Spot, context: _Context) -> Message:
    things = "characters" if isinstance(spot.value, str) else "values"
    count, most = len(spot.value), context["max_length"]
    hint = "shorten it" if things == "characters" else spot.as_written
    return f"`{spot.name}` has {count} {things}, but {most} is the most", hint


def _misshapen(spot: _Spot, context: _Context) -> Message:
    example = f", such as {spot.rule.example}" if spot.rule.example else ""
    says = _leaf(spot.rule.schema)["metadata"]["says"]
    return f"`{spot.name}` can't be {shown(spot.value)}", f"write {says}{example}"


def _not_a_letter(spot: _Spot, context: _Context) -> Message:
    return f"{shown(spot.value)} can't be a colour's letter", spot.as_written


def _control(spot: _Spot, context: _Context) -> Message:
    sign = ord(context["sign"])
    what = {9: "a tab", 10: "a line end"}.get(sign, f"the invisible sign U+{sign:04X}")
    return f"`{spot.name}` has {what} in it", "take it out, or put a blank in its place"


def _not_a_day(spot: _Spot, context: _Context) -> Message:
    try:
        day = datetime.date.fromisoformat(str(spot.value)[:10])
    except ValueError:
        return f"`{spot.name}` must be a date, not {shown(spot.value)}", spot.as_written
    what = "quotes round it" if isinstance(spot.value, str) else "a time of day"
    return f"`{spot.name}` has {what}", f"write {spot.name} = {day}"


def _not_a_choice(spot: _Spot, context: _Context) -> Message:
    leaf = _leaf(spot.rule.schema)
    names = leaf.get("metadata", {}).get(NAMES)
    choices = names() if names else leaf.get("expected", ())
    near = nearest(spot.value, map(str, choices)) if isinstance(spot.value, str) else None
    if near:
        return f"`{spot.name}` can't be {shown(spot.value)}", f'did you mean "{near}"?'
    hint = f"it can be {' or '.join(map(shown, choices))}"
    if "{" in spot.rule.example:
        hint += f", or a table such as {spot.rule.example}"
    return f"`{spot.name}` can't be {shown(spot.value)}", hint


def _leaf(schema: Schema) -> Schema:
    """The schema of the first plain value in another."""
    branches = schema.get("choices", {}).values()
    inner = schema.get("items_schema") or schema.get("schema") or next(iter(branches), None)
    return _leaf(inner) if inner else schema


def _not_a_kind(spot: _Spot, context: _Context) -> Message:
    said = spot.value["kind"]
    known = [kinds(table)[0] for table in spot.shape.tables(spot.path)]
    near = nearest(said, known) if isinstance(said, str) else None
    hint = f'did you mean "{near}"?' if near else f"it can be {' or '.join(map(shown, known))}"
    return f"`kind` can't be {shown(said)}", hint


def _not_a_table(spot: _Spot, context: _Context) -> Message:
    shape, path, example = spot.shape, spot.path, spot.rule.example
    if isinstance(path[-1], int):
        example = shape.rule(path[:-1]).example
        if example.startswith("[["):
            return f"{shape.thing(path)} must be a table", f"begin it with a line {example}"
        braces = f"write each in braces, such as {example.partition('[')[2].removesuffix(']')}"
        return f"`{path[-2]}` must hold tables, not {shown(spot.value)}", braces
    if shape.is_entry(path):
        header = f"begin it with [{'.'.join(map(str, path))}]"
        in_list = any(isinstance(part, int) for part in path)
        inline = f"write it like this: {shape.rule(path[:-1]).example}"
        return f"{shape.thing(path)} must be a table", inline if in_list else header
    if shape.is_mapping(path) and shape.tables((*path, "")):
        return f"`{spot.name}` must be tables", f"begin each with a line such as {example}"
    message = f"`{spot.name}` must be a table, not {shown(spot.value)}"
    return message, f"begin it with {example}" if example.startswith("[") else spot.as_written


def _not_a_list(spot: _Spot, context: _Context) -> Message:
    if not spot.rule.example.startswith("[["):
        return f"`{spot.name}` must be a list in [brackets]", spot.as_written
    hint = f"write {spot.rule.example}; there can be several"
    return f"[{spot.name}] needs two brackets on each side", hint


_MESSAGES: dict[str, Callable[[_Spot, _Context], Message]] = {
    "string_type": _not_text,
    "string_too_short": _too_short,
    "too_short": _too_short,
    "string_too_long": _too_long,
    "too_long": _too_long,
    "string_pattern_mismatch": _misshapen,
    "letter": _not_a_letter,
    "value_error": _refused,
    "control_character": _control,
    "int_type": _not_whole,
    "float_type": _not_number,
    "finite_number": _not_number,
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
