"""Build validators of TOML tables from dataclasses whose fields carry their rules."""

from __future__ import annotations

import copy
import dataclasses
import re
from collections.abc import Mapping, Sequence
from typing import Any, Final

from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from publisher.frozen import frozen
from publisher.tables.words import can_be_seen

TAG: Final = "\0"
"""Begins the names that a validator gives to the branches of a choice, in the way to an error."""


LEAST_KNOT_MM: Final = 0.1
"""Finer than any yarn that is knotted by hand: no knot is smaller, nor takes less."""
THINNEST_BAR_MM: Final = 0.5
"""Fine wire: nothing that cords are mounted on is thinner."""


@frozen
class KeyRule:
    """The rule of a key: what it may hold, what it is for, and one line that writes it right."""

    schema: CoreSchema
    says: str
    example: str
    stand_in: object
    """Put in place of a required value that is wrong, so that the reading can go on."""


def key(schema: CoreSchema, says: str, example: str, stand_in: object = None) -> dict[str, object]:
    """The rule of a key, as the metadata of its field."""
    return {"rule": KeyRule(schema, says, example, stand_in)}


def rules(table: type) -> dict[str, KeyRule]:
    """The rules of a table by key, in the order of the file."""
    return {field.name: field.metadata["rule"] for field in dataclasses.fields(table)}


def required_keys(table: type) -> set[str]:
    """The keys that can't be left out."""
    return {f.name for f in dataclasses.fields(table) if not _has_default(f)}


def stand_ins(table: type) -> dict[str, object]:
    """The least that makes a table: what stands in for each key that can't be left out, each time
    anew, as what is read goes into it."""
    needed = required_keys(table)
    return {
        name: copy.deepcopy(rule.stand_in) for name, rule in rules(table).items() if name in needed
    }


def table_schema(table: type) -> CoreSchema:
    """The validator of a table: it makes an instance, and knows no other keys."""
    return core_schema.dataclass_schema(
        table,
        core_schema.dataclass_args_schema(
            table.__name__,
            [_key_schema(field) for field in dataclasses.fields(table)],
            extra_behavior="forbid",
        ),
        list(rules(table)),
        slots=True,
    )


def _key_schema(field: dataclasses.Field[Any]) -> core_schema.DataclassField:
    rule: KeyRule = field.metadata["rule"]
    schema = rule.schema
    if field.default_factory is not dataclasses.MISSING:
        schema = core_schema.with_default_schema(schema, default_factory=field.default_factory)
    elif field.default is not dataclasses.MISSING:
        schema = core_schema.with_default_schema(schema, default=field.default)
    shown = {"description": f"{rule.says}\n\n{rule.example}"}
    return core_schema.dataclass_field(
        field.name, schema, kw_only=True, metadata={"pydantic_js_updates": shown}
    )


def _has_default(field: dataclasses.Field[Any]) -> bool:
    missing = dataclasses.MISSING
    return field.default is not missing or field.default_factory is not missing


def line(most: int, least: int = 1) -> CoreSchema:
    """A text of one line, blanks round it taken off."""
    schema = core_schema.str_schema(
        strict=True, strip_whitespace=True, min_length=least, max_length=most
    )
    return core_schema.no_info_after_validator_function(_refuse_controls, schema)


def text(most: int) -> CoreSchema:
    """A text of several lines."""
    schema = core_schema.str_schema(strict=True, max_length=most)
    return core_schema.no_info_after_validator_function(_refuse_controls_in_lines, schema)


def shaped(pattern: str, most: int | None = None) -> CoreSchema:
    """A text of a fixed shape (a regular expression for the whole of it)."""
    return core_schema.str_schema(strict=True, pattern=f"^(?:{pattern})$", max_length=most)


def letter() -> CoreSchema:
    """A colour's letter: one character that can be seen and stands by itself."""
    return core_schema.no_info_after_validator_function(
        _refuse_unprintable,
        core_schema.str_schema(strict=True),
        metadata={"pydantic_js_updates": {"minLength": 1, "maxLength": 1, "pattern": r"^\S$"}},
    )


def chart_text() -> CoreSchema:
    """A chart: read letter by letter later on."""
    return core_schema.str_schema(strict=True)


def whole(least: int, most: int) -> CoreSchema:
    """A whole number."""
    return core_schema.int_schema(strict=True, ge=least, le=most)


def number(least: float, most: float) -> CoreSchema:
    """A number with or without decimals, from `least` to `most`."""
    return core_schema.float_schema(strict=True, allow_inf_nan=False, ge=least, le=most)


def yes_or_no() -> CoreSchema:
    """`true` or `false`."""
    return core_schema.bool_schema(strict=True)


def choice(*words: object) -> CoreSchema:
    """One of these."""
    return core_schema.literal_schema(list(words))


def word_or_own(shape: str, *words: str) -> CoreSchema:
    """One of these, which editors offer, or a name of the writer's own; whether there is a thing
    of that name is for the reader to find. `shape`: a regular expression for the whole of it."""
    offered = [{"enum": list(words)}, {"type": "string", "pattern": f"^(?:{shape})$"}]
    return core_schema.no_info_after_validator_function(
        str, line(100), metadata={"pydantic_js_updates": {"anyOf": offered}}
    )


def day() -> CoreSchema:
    """A date, as TOML writes it: without quotes."""
    return core_schema.date_schema(strict=True)


def by_name(name: CoreSchema, table: CoreSchema) -> CoreSchema:
    """Tables under names that the writer chooses."""
    return core_schema.dict_schema(name, table)


def any_name() -> CoreSchema:
    """A name of the writer's own choice."""
    return line(100)


def rows_of(table: CoreSchema, least: int = 0) -> CoreSchema:
    """A list of tables: `[[name]]`."""
    return core_schema.list_schema(table, min_length=least or None)


def some(item: CoreSchema, most: int, least: int = 1) -> CoreSchema:
    """A list of a few things."""
    return core_schema.list_schema(item, min_length=least, max_length=most)


def word_or_table(words: Sequence[str], table: CoreSchema) -> CoreSchema:
    """Either one of some words, or a table."""

    def which(value: object) -> str:
        return f"{TAG}word" if isinstance(value, str) else f"{TAG}table"

    branches = {f"{TAG}word": choice(*words), f"{TAG}table": table}
    return core_schema.tagged_union_schema(branches, which)


def by_kind(kinds: Mapping[str, CoreSchema], usual: str) -> CoreSchema:
    """Tables of several kinds: the key `kind` says which; left out, it is the usual one."""

    def which(value: object) -> str:
        kind = value.get("kind", usual) if isinstance(value, dict) else usual
        return f"{TAG}{kind}"

    return core_schema.tagged_union_schema({f"{TAG}{k}": t for k, t in kinds.items()}, which)


def _refuse_unprintable(value: str) -> str:
    if len(value) != 1 or not can_be_seen(value):
        raise PydanticCustomError("letter", "not a letter of a chart")
    return value


_CONTROL = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029\ufdd0-\ufdef\ufffe\uffff]")
_CONTROL_IN_LINES = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\ufdd0-\ufdef\ufffe\uffff]")


def _refuse_controls(value: str) -> str:
    return _refuse(_CONTROL, value)


def _refuse_controls_in_lines(value: str) -> str:
    return _refuse(_CONTROL_IN_LINES, value)


def _refuse(controls: re.Pattern[str], value: str) -> str:
    found = controls.search(value)
    if found:
        raise PydanticCustomError("control_character", "{sign}", {"sign": found[0]})
    return value
