"""Describe the tables of files by dataclasses: what each key may hold, in words and as a schema.

A schema is one of pydantic's core schemas, which are plain tables: pydantic_core itself is loaded
when a file is first read. A field whose metadata has no rule (`key`) is described by its
annotation alone.
"""

from __future__ import annotations

import copy
import dataclasses
import re
from collections.abc import Callable, Mapping, Sequence
from functools import cache
from types import MappingProxyType, NoneType, UnionType
from typing import Any, Final, Literal, Union, get_args, get_origin, get_type_hints

from publisher.frozen import frozen
from publisher.tables.words import can_be_seen

Schema = dict[str, Any]
NAMES: Final = "names"
"""In a schema's metadata: what lists the names that a value may be."""
TAG: Final = "\0"
"""Begins the names that a validator gives to the branches of a choice, in the way to an error."""

SLUG: Final = "[a-z0-9]+(-[a-z0-9]+)*"
LEAST_KNOT_MM: Final = 0.1
"""Finer than any yarn that is knotted by hand: no knot is smaller, nor takes less."""
THINNEST_BAR_MM: Final = 0.5
"""Fine wire: nothing that cords are mounted on is thinner."""


@frozen
class KeyRule:
    """The rule of a key: what it may hold, what it is for, and one line that writes it right.

    `one`: what one of the tables below it is called, if that is not the key's own singular;
    `add`: how to add what is missing, if a line like the example is not enough.
    """

    schema: Schema
    says: str
    example: str
    stand_in: object = None
    """Put in place of a required value that is wrong, so that the reading can go on."""
    one: str = ""
    add: str = ""


def key(
    schema: Schema,
    says: str,
    example: str,
    *,
    usual: Any = dataclasses.MISSING,
    make: Any = dataclasses.MISSING,
    stand_in: object = None,
    one: str = "",
    add: str = "",
) -> Any:
    """A field with the rule of its key. `usual`: its value where the key is left out, or what
    makes that value (`make`); with neither, the key is required."""
    rule = KeyRule(schema, says, example, stand_in, one, add)
    return dataclasses.field(default=usual, default_factory=make, metadata={"rule": rule})


def optional(schema: Schema, says: str, example: str, *, one: str = "") -> Any:
    """A field that is None where its key is left out."""
    return key(schema, says, example, usual=None, one=one)


def rules(table: type) -> dict[str, KeyRule]:
    """The rules of a table by key, in the order of the file."""
    return {_name(field): _rule(field) for field in dataclasses.fields(table)}


def _name(field: dataclasses.Field[Any]) -> str:
    """A field's key: `from_` stands for one that Python keeps for itself."""
    return field.name.removesuffix("_")


def _rule(field: dataclasses.Field[Any]) -> KeyRule:
    rule: KeyRule | None = field.metadata.get("rule")
    return rule or KeyRule({}, "", "")


@cache
def hints(table: type) -> dict[str, Any]:
    """The annotations of a table's fields."""
    return {name.removesuffix("_"): hint for name, hint in get_type_hints(table).items()}


def required_keys(table: type) -> set[str]:
    """The keys that can't be left out."""
    return {_name(f) for f in dataclasses.fields(table) if not _has_default(f)}


def stand_ins(table: type) -> dict[str, object]:
    """The least that makes a table: what stands in for each key that can't be left out, each time
    anew, as what is read goes into it."""
    needed = required_keys(table)
    return {
        name: copy.deepcopy(rule.stand_in) for name, rule in rules(table).items() if name in needed
    }


PLAIN: Mapping[Any, Schema] = MappingProxyType(
    {
        str: {"type": "str", "strict": True},
        bool: {"type": "bool", "strict": True},
        int: {"type": "int", "strict": True},
        float: {"type": "float", "strict": True, "allow_inf_nan": False},
    }
)
"""Values of any size."""


def table_schema(table: type, leaves: Mapping[Any, Schema] = PLAIN) -> Schema:
    """The schema of a table: it makes an instance, and knows no other keys. `leaves`: the schemas
    of values by their annotation, for fields without a rule."""
    fields = dataclasses.fields(table)
    return {
        "type": "dataclass",
        "cls": table,
        "fields": [field.name for field in fields],
        "slots": "__slots__" in table.__dict__,
        "schema": {
            "type": "dataclass-args",
            "dataclass_name": table.__name__,
            "extra_behavior": "forbid",
            "fields": [_key_schema(table, field, leaves) for field in fields],
        },
    }


def _key_schema(table: type, field: dataclasses.Field[Any], leaves: Mapping[Any, Schema]) -> Schema:
    rule = _rule(field)
    schema = rule.schema or schema_of(hints(table)[_name(field)], leaves)
    if field.default_factory is not dataclasses.MISSING:
        schema = {"type": "default", "schema": schema, "default_factory": field.default_factory}
    elif field.default is not dataclasses.MISSING:
        schema = {"type": "default", "schema": schema, "default": field.default}
    shown = {"description": f"{rule.says}\n\n{rule.example}"}
    return {
        "type": "dataclass-field",
        "name": field.name,
        "validation_alias": _name(field),
        "schema": schema,
        "kw_only": True,
        "metadata": {"pydantic_js_updates": shown},
    }


def _has_default(field: dataclasses.Field[Any]) -> bool:
    missing = dataclasses.MISSING
    return field.default is not missing or field.default_factory is not missing


def schema_of(hint: Any, leaves: Mapping[Any, Schema]) -> Schema:
    """The schema of what an annotation says."""
    inner = get_args(hint)
    match get_origin(hint):
        case None:
            return leaves[hint] if hint in leaves else table_schema(hint, leaves)
        case origin if origin is Literal:
            return choice(*inner)
        case origin if origin in (Union, UnionType):
            (kind,) = [one for one in inner if one is not NoneType]
            return {"type": "nullable", "schema": schema_of(kind, leaves)}
        case origin if origin is tuple:
            items = [schema_of(one, leaves) for one in inner if one is not ...]
            variadic = {"variadic_item_index": 0} if inner[-1] is ... else {}
            return {"type": "tuple", "items_schema": items, **variadic}
        case origin if origin is list:
            return rows_of(schema_of(inner[0], leaves))
        case _:
            return by_name({"type": "str", "strict": True}, schema_of(inner[1], leaves))


def line(most: int, least: int = 1) -> Schema:
    """A text of one line, blanks round it taken off."""
    return after(
        _refuse_controls,
        {"type": "str", "strict": True, "strip_whitespace": True}
        | {"min_length": least, "max_length": most},
    )


def text(most: int) -> Schema:
    """A text of several lines."""
    return after(_refuse_controls_in_lines, {"type": "str", "strict": True, "max_length": most})


def shaped(pattern: str, says: str, most: int | None = None) -> Schema:
    """A text of a fixed shape: a regular expression for the whole of it, and what that is in
    words."""
    length = {} if most is None else {"max_length": most}
    whole_of_it = {"type": "str", "strict": True, "pattern": f"^(?:{pattern})$", **length}
    return whole_of_it | {"metadata": {"says": says}}


def slug() -> Schema:
    """A short name that can stand in a file's name."""
    return shaped(SLUG, "small letters, figures and single hyphens", 100)


def hex_colour() -> Schema:
    """A colour of the screen."""
    return shaped("#[0-9a-fA-F]{6}", "# and six signs of 0 to 9 and a to f")


def letter() -> Schema:
    """A colour's letter: one character that can be seen and stands by itself."""
    shown = {"minLength": 1, "maxLength": 1, "pattern": r"^\S$"}
    return after(_refuse_unprintable, {"type": "str", "strict": True}, shown)


def chart_text() -> Schema:
    """A chart: read letter by letter later on."""
    return {"type": "str", "strict": True}


def whole(least: int, most: int | None = None) -> Schema:
    """A whole number."""
    return {"type": "int", "strict": True, "ge": least} | ({} if most is None else {"le": most})


def number(least: float, most: float | None = None) -> Schema:
    """A number with or without decimals, from `least` to `most`."""
    limits = {"ge": least} | ({} if most is None else {"le": most})
    return {"type": "float", "strict": True, "allow_inf_nan": False} | limits


def yes_or_no() -> Schema:
    """`true` or `false`."""
    return {"type": "bool", "strict": True}


def choice(*words: object) -> Schema:
    """One of these."""
    return {"type": "literal", "expected": list(words)}


def one_of(names: Callable[[], Sequence[str]], known: Callable[[str], bool]) -> Schema:
    """One of the names that the program's data has. `known` is asked about the one that is written;
    all of them are listed only for a message, or for editors."""

    def check(value: object) -> str:
        if isinstance(value, str) and known(value):
            return value
        from pydantic_core import PydanticKnownError

        raise PydanticKnownError("literal_error", {"expected": ""})

    def offer(shown: Schema) -> None:
        shown["enum"] = [*names()]

    named = after(check, {"type": "any", "metadata": {NAMES: names}})
    return named | {"metadata": {"pydantic_js_extra": offer}}


def word_or_own(shape: str, names: Callable[[], Sequence[str]]) -> Schema:
    """One of these, which editors offer, or a name of the writer's own; whether there is a thing
    of that name is for the reader to find. `shape`: a regular expression for the whole of it."""

    def offer(shown: Schema) -> None:
        shown["anyOf"] = [{"enum": [*names()]}, {"type": "string", "pattern": f"^(?:{shape})$"}]

    return after(str, line(100)) | {"metadata": {"pydantic_js_extra": offer}}


def day() -> Schema:
    """A date, as TOML writes it: without quotes."""
    return {"type": "date", "strict": True}


def by_name(name: Schema, table: Schema) -> Schema:
    """Tables under names that the writer chooses."""
    return {"type": "dict", "keys_schema": name, "values_schema": table}


def any_name() -> Schema:
    """A name of the writer's own choice."""
    return line(100)


def rows_of(table: Schema, least: int = 0) -> Schema:
    """A list of tables: `[[name]]`."""
    return {"type": "list", "items_schema": table} | ({"min_length": least} if least else {})


def some(item: Schema, most: int, least: int = 1) -> Schema:
    """A list of a few things."""
    return {"type": "list", "items_schema": item, "min_length": least, "max_length": most}


def word_or(words: Sequence[object], other: Schema) -> Schema:
    """Either one of some words, or something else: a table, say."""

    def which(value: object) -> str:
        return f"{TAG}word" if isinstance(value, str | bool) else f"{TAG}other"

    branches = {f"{TAG}word": choice(*words), f"{TAG}other": other}
    return {"type": "tagged-union", "choices": branches, "discriminator": which}


def by_kind(kinds: Mapping[str, Schema], usual: str) -> Schema:
    """Tables of several kinds: the key `kind` says which; left out, it is the usual one."""

    def which(value: object) -> str:
        kind = value.get("kind", usual) if isinstance(value, dict) else usual
        return f"{TAG}{kind}"

    branches = {f"{TAG}{kind}": table for kind, table in kinds.items()}
    return {"type": "tagged-union", "choices": branches, "discriminator": which}


def after(change: Callable[[Any], Any], schema: Schema, shown: Schema | None = None) -> Schema:
    """A schema with a function that takes what it lets through. `shown`: for JSON Schema."""
    function = {"type": "no-info", "function": change}
    metadata = {"metadata": {"pydantic_js_updates": shown}} if shown else {}
    return {"type": "function-after", "function": function, "schema": schema} | metadata


def _refuse_unprintable(value: str) -> str:
    if len(value) != 1 or not can_be_seen(value):
        from pydantic_core import PydanticCustomError

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
        from pydantic_core import PydanticCustomError

        raise PydanticCustomError("control_character", "{sign}", {"sign": found[0]})
    return value
