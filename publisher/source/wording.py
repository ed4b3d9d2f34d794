"""Say in a maker's words what is wrong with a value, and what to do."""

from __future__ import annotations

import datetime
import math
import re
from collections.abc import Callable, Iterable
from typing import Any

from pydantic_core import ErrorDetails

from publisher.source.findings import KeyPath
from publisher.source.format.assembly import AssemblyTable, TargetTable
from publisher.source.format.files import HouseTable, PatternTable
from publisher.source.format.kinds import PIECE_KINDS
from publisher.source.format.lookup import table_at
from publisher.source.format.parts import (
    CarryTable,
    CordsTable,
    FringeTable,
    GaugeTable,
    MountTable,
)
from publisher.source.format.pieces import ChartTable
from publisher.source.format.schema import Rule, required_keys, rules
from publisher.source.format.steps import (
    AddTable,
    BarTable,
    PartCordTable,
    PlainStepTable,
    StepsTable,
    StepTable,
)
from publisher.source.format.yarns import ColourTable, YarnTable

Said = tuple[str, str]
"""What is wrong, and what to do."""


def say_wrong(root: type, path: KeyPath, detail: ErrorDetails, data: object) -> Said:
    """What the validator found at a key of a file's table, in words."""
    kind = detail["type"]
    if kind == "missing":
        return _missing(root, path, data)
    if kind == "unexpected_keyword_argument":
        return _unknown(root, path, data)
    if detail["loc"][-1:] == ("[key]",):
        return _bad_name(path)
    path = _named(root, path, data)
    owner = table_at(root, path[:-1], data) if path else None
    rule = rules(owner).get(str(path[-1])) if owner else None
    return _SAYINGS.get(kind, _not_right)(path, rule, detail)


def thing(path: KeyPath, data: object = None) -> str:
    """What stands at a way of keys: `colour N`, `piece 2 (panel)`."""
    match path:
        case ():
            return "this file"
        case ("colours", str(letter)):
            return f"colour {on_one_line(letter)}"
        case ("yarns", str(name)):
            return f"yarn {on_one_line(name)}"
        case ("pieces", int(index)):
            try:
                name = f" ({on_one_line(str(data['pieces'][index]['id']))})"  # type: ignore[index]
            except (KeyError, IndexError, TypeError):
                name = ""
            return f"piece {index + 1}{name}"
        case ("assembly", int(index)):
            return f"assembly step {index + 1}"
        case (*_, "steps" | "cords" as group, int(index)):
            return f"{group[:-1]} {index + 1}"
        case _:
            return f"`{path[-1]}`"


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that was most likely meant."""
    from difflib import get_close_matches

    known = list(known)
    meant = _OTHER_WORDS.get(word.lower())
    if meant in known:
        return meant
    found = get_close_matches(word.lower(), known, n=1, cutoff=0.65)
    return found[0] if found else None


def shown(value: object) -> str:
    """A value as it is quoted in a message, cut short."""
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            return f'"{on_one_line(value)}"'
        case dict():
            return "a table"
        case list():
            return "a list"
        case int() if abs(value) >= 10**15:
            return "a huge number"
        case _:
            return str(value)


def on_one_line(text: str) -> str:
    """A text as it can stand in a message: short, and nothing in it that can't be seen."""
    seen = "".join(sign if sign.isprintable() else " " for sign in text)
    return seen if len(seen) <= 40 else seen[:39] + "…"


def listed(words: Iterable[str], most: int = 12) -> str:
    """`N, W, S`, cut short."""
    words = list(words)
    return ", ".join(words[:most]) + (", …" if len(words) > most else "")


def _missing(root: type, path: KeyPath, data: object) -> Said:
    name = str(path[-1])
    if name in _NOTHING:
        return _NOTHING[name]
    example = rules(table_at(root, path[:-1], data) or root)[name].example
    return f"{thing(path[:-1], data)} has no `{name}`", f"add a line such as {example}"


def no_colours() -> Said:
    return _NOTHING["colours"]


def no_pieces() -> Said:
    return _NOTHING["pieces"]


def meant(root: type, path: KeyPath, data: object) -> str | None:
    """The key that was most likely meant by one that nobody knows."""
    return nearest(str(path[-1]), rules(table_at(root, path[:-1], data) or root))


def _named(root: type, path: KeyPath, data: object) -> KeyPath:
    """The way to a value that has a name: of an item in a list of numbers, the list's."""
    listed_item = path and isinstance(path[-1], int) and table_at(root, path, data) is None
    return path[:-1] if listed_item else path


def _unknown(root: type, path: KeyPath, data: object) -> Said:
    name = on_one_line(str(path[-1]))
    table = table_at(root, path[:-1], data) or root
    near = meant(root, path, data)
    if near:
        return f"nothing here is called `{name}`", f"did you mean `{near}`?"
    message = f"nothing in {_KINDS[table]} is called `{name}`"
    for place, home in _HOMES:
        if home is not table and name in rules(home) and (home, root) != (PatternTable, HouseTable):
            return message, f"it belongs {place}"
    needed = required_keys(table)
    known = sorted(rules(table), key=lambda key: key not in needed)
    return message, f"take it out, or use one of {listed(known, 20)}"


def _bad_name(path: KeyPath) -> Said:
    if path[0] == "colours":
        hint = "begin each colour with its one letter, as in [colours.N]"
        return f"{shown(path[-1])} can't be a colour's letter", hint
    return f"{shown(path[-1])} can't be a yarn's name", "use a short one, as in [yarns.cotton-3]"


def _not_right(path: KeyPath, rule: Rule | None, detail: ErrorDetails) -> Said:
    return f"`{path[-1]}` can't be {shown(detail['input'])}", _as_written(rule)


def _as_written(rule: Rule | None) -> str:
    if rule is None:
        return "look at it again"
    first, *more = rule.example.split("\n")
    below = " with its lines below, and three quotes again below them" if more else ""
    return f"write it like this: {first}{below}"


def _not_text(path: KeyPath, rule: Rule | None, detail: ErrorDetails) -> Said:
    value, message = detail["input"], f"`{path[-1]}` must be a text in quotes"
    if isinstance(value, bool) or not isinstance(value, (int, float, datetime.date, datetime.time)):
        return f"{message}, not {shown(value)}", _as_written(rule)
    schema: Any = rule.schema if rule else {}
    fits = re.search(schema.get("pattern", ""), shown(value))
    return message, f'write {path[-1]} = "{shown(value)}"' if fits else _as_written(rule)


def _not_number(path: KeyPath, rule: Rule | None, detail: ErrorDetails) -> Said:
    value = detail["input"]
    if isinstance(value, str) and _is_number(value):
        return f"`{path[-1]}` has quotes round its number", f"write {path[-1]} = {value.strip()}"
    what = "a whole number" if detail["type"] == "int_type" else "a number"
    return f"`{path[-1]}` must be {what}, not {shown(value)}", _as_written(rule)


def _is_number(value: str) -> bool:
    try:
        return math.isfinite(float(value))
    except ValueError:
        return False


def _out_of_range(path: KeyPath, rule: Rule | None, detail: ErrorDetails) -> Said:
    value = detail["input"]
    if path[-1] == "format":
        return f"this file is of format {shown(value)}, not 1", "write format = 1"
    words = {"gt": "it must be more than", "ge": "the least is", "le": "the most is"}
    ((bound, limit),) = detail["ctx"].items()
    message = f"`{path[-1]}` is {shown(value)}, but {words[bound]} {limit:.10g}"
    return message, _as_written(rule)


def _empty(path: KeyPath, rule: Rule | None, detail: ErrorDetails) -> Said:
    return f"`{path[-1]}` is empty", _as_written(rule)


def _too_long(path: KeyPath, rule: Rule | None, detail: ErrorDetails) -> Said:
    count, most = len(detail["input"]), detail["ctx"]["max_length"]
    return f"`{path[-1]}` has {count} characters, but {most} is the most", "shorten it"


def _misshapen(path: KeyPath, rule: Rule | None, detail: ErrorDetails) -> Said:
    example = f", such as {rule.example}" if rule else ""
    return (
        f"`{path[-1]}` can't be {shown(detail['input'])}",
        f"write {_SHAPES[str(path[-1])]}{example}",
    )


def _not_a_letter(path: KeyPath, rule: Rule | None, detail: ErrorDetails) -> Said:
    return f"{shown(detail['input'])} can't be a colour's letter", _as_written(rule)


def _control(path: KeyPath, rule: Rule | None, detail: ErrorDetails) -> Said:
    sign = ord(detail["ctx"]["sign"])
    what = {9: "a tab", 10: "a line end"}.get(sign, f"the invisible sign U+{sign:04X}")
    return f"`{path[-1]}` has {what} in it", "take it out, or put a blank in its place"


def _not_a_day(path: KeyPath, rule: Rule | None, detail: ErrorDetails) -> Said:
    value = detail["input"]
    try:
        day = datetime.date.fromisoformat(str(value)[:10])
    except ValueError:
        return f"`{path[-1]}` must be a date, not {shown(value)}", _as_written(rule)
    what = "quotes round it" if isinstance(value, str) else "a time of day"
    return f"`{path[-1]}` has {what}", f"write {path[-1]} = {day}"


def _not_a_choice(path: KeyPath, rule: Rule | None, detail: ErrorDetails) -> Said:
    value = detail["input"]
    choices = _choices(rule)
    near = nearest(value, map(str, choices)) if isinstance(value, str) else None
    if near:
        return f"`{path[-1]}` can't be {shown(value)}", f'did you mean "{near}"?'
    hint = f"it can be {' or '.join(map(shown, choices))}"
    if rule and "{" in rule.example:
        hint += f", or a table such as {rule.example}"
    return f"`{path[-1]}` can't be {shown(value)}", hint


def _choices(rule: Rule | None) -> list[object]:
    schema: Any = rule.schema if rule else {}
    while isinstance(schema.get("choices"), dict):
        schema = next(iter(schema["choices"].values()))
    return list(schema.get("expected", ()))


def _not_a_kind(path: KeyPath, rule: Rule | None, detail: ErrorDetails) -> Said:
    value = detail["input"]["kind"]
    near = nearest(value, PIECE_KINDS) if isinstance(value, str) else None
    hint = (
        f'did you mean "{near}"?' if near else f"it can be {' or '.join(map(shown, PIECE_KINDS))}"
    )
    return f"`kind` can't be {shown(value)}", hint


def _not_a_table(path: KeyPath, rule: Rule | None, detail: ErrorDetails) -> Said:
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


def _not_a_list(path: KeyPath, rule: Rule | None, detail: ErrorDetails) -> Said:
    if len(path) > 1:
        return f"`{path[-1]}` must be a list in [brackets]", _as_written(rule)
    return (
        f"[{path[-1]}] needs two brackets on each side",
        f"write [[{path[-1]}]]; there can be several",
    )


_SAYINGS: dict[str, Callable[[KeyPath, Rule | None, ErrorDetails], Said]] = {
    "string_type": _not_text,
    "string_too_short": _empty,
    "too_short": _empty,
    "string_too_long": _too_long,
    "string_pattern_mismatch": _misshapen,
    "letter": _not_a_letter,
    "control_character": _control,
    "int_type": _not_number,
    "float_type": _not_number,
    "greater_than": _out_of_range,
    "greater_than_equal": _out_of_range,
    "less_than_equal": _out_of_range,
    "literal_error": _not_a_choice,
    "union_tag_invalid": _not_a_kind,
    "date_type": _not_a_day,
    "dataclass_type": _not_a_table,
    "dict_type": _not_a_table,
    "list_type": _not_a_list,
}

_NOTHING: dict[str, Said] = {
    "colours": ("this file has no colours", "add each one under a line such as [colours.N]"),
    "pieces": ("this file has no pieces", "add one: a line [[pieces]], and under it id and chart"),
}
_BRACES = "write each in braces, such as { tie = …, on = [1, 2] } or { colour = … }"
_SHAPES = {
    "srgb": "# and six signs of 0 to 9 and a to f",
    "version": "two or three numbers with points between them",
    "currency": "the currency's three capital letters",
    "id": "small letters, figures and single hyphens",
    "terms": "small letters, figures and single hyphens",
}
_KINDS: dict[type, str] = {
    PatternTable: "the top part of a pattern",
    HouseTable: "the top part of house.toml",
    ColourTable: "a colour",
    YarnTable: "a yarn",
    ChartTable: "a piece",
    MountTable: "a mount",
    CordsTable: "cords",
    FringeTable: "a fringe",
    GaugeTable: "a gauge",
    CarryTable: "a carry",
    StepsTable: "a piece of steps",
    BarTable: "a mount",
    PartCordTable: "a cord",
    StepTable: "a step",
    PlainStepTable: "a repeated step",
    AddTable: "a new cord",
    AssemblyTable: "a step of the assembly",
    TargetTable: "a place",
}
_HOMES: tuple[tuple[str, type], ...] = (
    ("at the top of the file, above the first line in [brackets]", PatternTable),
    ("in a piece, under its line [[pieces]]", ChartTable),
    ("in a piece of steps, under its line [[pieces]]", StepsTable),
    ("in a colour, under its line [colours.N]", ColourTable),
    ("in a yarn, under its line [yarns.NAME]", YarnTable),
)
_OTHER_WORDS = {
    "author": "designer",
    "color": "colour",
    "colors": "colours",
    "count": "make",
    "description": "about",
    "difficulty": "level",
    "hex": "srgb",
    "image": "chart_file",
    "picture": "chart_file",
    "quantity": "make",
    "rgb": "srgb",
    "thickness_mm": "diameter_mm",
    "weight": "grams_per_metre",
}
