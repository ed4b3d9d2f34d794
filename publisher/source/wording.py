"""Say in a maker's words what is wrong with a value, and what to do."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Iterable, Sequence
from difflib import get_close_matches
from typing import Any

from pydantic_core import ErrorDetails

from publisher.source.findings import KeyPath
from publisher.source.format.files import PatternTable
from publisher.source.format.lookup import table_at
from publisher.source.format.pieces import PIECE_KINDS
from publisher.source.format.schema import Rule, rules
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
    name = str(path[-1]) if path else ""
    special = _SPECIAL.get((kind, name)) or _SPECIAL.get((kind, ""))
    if special:
        return special(name, _rule(root, path), detail)
    return f"`{name}` can't be {_shown(detail['input'])}", "look at it again"


def thing(path: KeyPath, data: object = None) -> str:
    """What stands at a way of keys: `colour N`, `piece 2 (panel)`."""
    match path:
        case ():
            return "the file"
        case ("colours", str(letter)):
            return f"colour {letter}"
        case ("yarns", str(name)):
            return f"yarn {name}"
        case ("pieces", int(index)):
            try:
                name = f" ({data['pieces'][index]['id']})"  # type: ignore[index]
            except (KeyError, IndexError, TypeError):
                name = ""
            return f"piece {index + 1}{name}"
        case _:
            return f"`{path[-1]}`"


def one_of(words: Iterable[object]) -> str:
    """`"left" or "right"`."""
    return " or ".join(_shown(word) for word in words)


def nearest(word: str, known: Iterable[str]) -> str | None:
    """The known word that was most likely meant."""
    found = get_close_matches(word.lower(), list(known), n=1, cutoff=0.6)
    return found[0] if found else None


def _rule(root: type, path: KeyPath) -> Rule | None:
    owner = table_at(root, path[:-1])
    return rules(owner).get(str(path[-1])) if owner and path else None


def _shown(value: object) -> str:
    match value:
        case bool():
            return "true" if value else "false"
        case str():
            short = value if len(value) <= 40 else value[:39] + "…"
            return f'"{short}"'
        case dict():
            return "a table"
        case list():
            return "a list"
        case _:
            return str(value)[:40]


def _missing(root: type, path: KeyPath, data: object) -> Said:
    name = str(path[-1])
    rule = _rule(root, path)
    if name == "colours":
        return "the file has no colours", "add one for each letter of the chart: [colours.N] …"
    if name == "pieces":
        return "the file has no pieces", "add one: a line [[pieces]], and below it id and chart"
    example = rule.example if rule else ""
    return f"{thing(path[:-1], data)} has no `{name}`", f"add a line such as {example}"


def _unknown(root: type, path: KeyPath, data: object) -> Said:
    name, where = str(path[-1]), thing(path[:-1], data)
    known = list(rules(table_at(root, path[:-1]) or root))
    if path == ("assembly",):
        return (
            "[[assembly]] can't be read yet by this version",
            "take it out for now, or begin each of its lines with #",
        )
    near = nearest(name, known)
    message = f"`{name}` is not known in {where}"
    if near:
        return message, f"did you mean `{near}`?"
    home = _home(name, root)
    if home:
        return message, home
    return message, f"take it out; {where} can have {', '.join(known)}"


def _home(name: str, root: type) -> str | None:
    if name in rules(root):
        return "it belongs at the top of the file, above the first line in [brackets]"
    homes = {"a colour, under [colours.N]": ColourTable, "a yarn, under [yarns.NAME]": YarnTable}
    homes |= {"a piece, under [[pieces]]": PIECE_KINDS["chart"]}
    for place, table in homes.items():
        if name in rules(table):
            return f"it belongs in {place}"
    return None


def _bad_name(path: KeyPath) -> Said:
    if path[0] == "colours":
        return (
            f"{_shown(path[-1])} can't be a colour's letter",
            "use one character that can be seen, as in [colours.N]",
        )
    return f"{_shown(path[-1])} can't be a name", "use a short name, as in [yarns.cotton-3]"


def _as_written(rule: Rule | None) -> str:
    return f"write it like this: {rule.example}" if rule else "look at it again"


def _not_text(name: str, rule: Rule | None, detail: ErrorDetails) -> Said:
    value = detail["input"]
    if isinstance(value, (int, float, datetime.date, datetime.time)) and not isinstance(
        value, bool
    ):
        return f"`{name}` must stand in quotes", f'write {name} = "{value}"'
    return f"`{name}` must be a text in quotes, not {_shown(value)}", _as_written(rule)


def _not_number(name: str, rule: Rule | None, detail: ErrorDetails) -> Said:
    value = detail["input"]
    what = "a whole number" if detail["type"] == "int_type" else "a number"
    return f"`{name}` must be {what}, not {_shown(value)}", _as_written(rule)


def _out_of_range(name: str, rule: Rule | None, detail: ErrorDetails) -> Said:
    bounds: dict[str, Any] = detail.get("ctx", {})
    words = {"gt": "it must be more than", "ge": "the least is", "le": "the most is"}
    ((bound, limit),) = bounds.items()
    message = f"`{name}` is {_shown(detail['input'])}; {words[bound]} {limit:,g}"
    return message, _as_written(rule)


def _not_a_choice(name: str, rule: Rule | None, detail: ErrorDetails) -> Said:
    value = detail["input"]
    choices: Sequence[object] = _choices(rule)
    near = nearest(value, map(str, choices)) if isinstance(value, str) else None
    hint = f"did you mean {_shown(near)}? " if near else ""
    return f"`{name}` can't be {_shown(value)}", f"{hint}it can be {one_of(choices)}"


def _choices(rule: Rule | None) -> list[object]:
    schema: Any = rule.schema if rule else {}
    while "choices" in schema and isinstance(schema["choices"], dict):
        schema = next(iter(schema["choices"].values()))
    return list(schema.get("expected", ()))


_SPECIAL: dict[tuple[str, str], Callable[[str, Rule | None, ErrorDetails], Said]] = {
    ("string_type", ""): _not_text,
    ("int_type", ""): _not_number,
    ("float_type", ""): _not_number,
    ("greater_than", ""): _out_of_range,
    ("greater_than_equal", ""): _out_of_range,
    ("less_than_equal", ""): _out_of_range,
    ("literal_error", ""): _not_a_choice,
}
_ = PatternTable
