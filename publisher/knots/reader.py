"""Take values out of a knot file's tables, noting each mistake with its line."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import MISSING, dataclass, field, fields
from typing import Any

from publisher.errors import Place, Problem
from publisher.knots.measures import KINDS, Measures
from publisher.knots.model import Knot, ViewBox
from publisher.knots.tying import FORMS, NOT_TIED, Tying
from publisher.tables.findings import KeyPath
from publisher.tables.places import line_of
from publisher.tables.words import nearest


@dataclass
class Reader:
    """One file being read: its text, and the problems found so far."""

    text: str
    file: str
    library: Callable[[str], Knot]
    """Another knot by name; KeyError if there is none."""
    problems: list[Problem] = field(default_factory=list)

    def problem(self, key: KeyPath, message: str, hint: str, line: int | None = None) -> None:
        """Note a mistake at a key's line, or at a line (from 0) of the text that is its value."""
        found = line_of(self.text, key)
        if found is not None and line is not None:
            opening = self.text.split("\n")[found - 1].rstrip()
            found += line + opening.endswith(('"""', "'''"))
        self.problems.append(Problem(Place(self.file, found), message, hint))

    def take(self, table: Mapping[str, Any], key: KeyPath, kind: type, default: Any = None) -> Any:
        """A value of a kind; `default` None means that it must be there."""
        value = table.get(str(key[-1]))
        if value is None:
            if default is None:
                self.problem(key[:-1], f"{key[-1]} is missing", f"add {key[-1]} = …")
                return kind()
            return default
        if kind is float and isinstance(value, int) and not isinstance(value, bool):
            return float(value)
        if not isinstance(value, kind) or (isinstance(value, bool) and kind is not bool):
            self.problem(key, f"{key[-1]} must be {_KINDS[kind]}", f"not {value!r}")
            return kind() if default is None else default
        if isinstance(value, float) and not math.isfinite(value):
            self.problem(key, f"{key[-1]} must be a number", f"not {value!r}")
            return 0.0 if default is None else default
        return value

    def texts(
        self, table: Mapping[str, Any], key: KeyPath, default: tuple[str, ...] | None = None
    ) -> tuple[str, ...]:
        """A list of texts, none of them empty; `default` None means that it must be there."""
        value = self.take(table, key, list, None if default is None else list(default))
        if all(isinstance(text, str) and text.strip() for text in value):
            return tuple(value)
        self.problem(key, f"{key[-1]} must be a list of texts", 'write ["…", "…"]')
        return default or ()

    def known(self, table: Mapping[str, Any], key: KeyPath, names: tuple[str, ...]) -> None:
        for name in table:
            if name not in names:
                near = nearest(name, names)
                hint = f"did you mean {near}?" if near else f"known here: {', '.join(names)}"
                self.problem((*key, name), f"{name} is not known here", hint)


_KINDS = {
    str: "a text",
    float: "a number",
    int: "a whole number",
    bool: "true or false",
    list: "a list",
    dict: "a table",
}


def read_place(reader: Reader, table: Mapping[str, Any], key: KeyPath) -> complex | None:
    value = table.get(str(key[-1]))
    if value is None:
        return None
    if not is_numbers(value, 2):
        reader.problem(key, f"{key[-1]} must be a place", "write [x, y]")
        return None
    return complex(*value)


def read_box(reader: Reader, table: Mapping[str, Any], key: KeyPath) -> ViewBox | None:
    value = table.get(str(key[-1]))
    if value is None:
        return None
    if not is_numbers(value, 4) or value[0] >= value[2] or value[1] >= value[3]:
        reader.problem(key, f"{key[-1]} must be a box", "write [left, top, right, bottom]")
        return None
    return ViewBox(*map(float, value))


def read_cords(
    reader: Reader, data: Mapping[str, Any], strands: Iterable[str]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The strands from the left as they come in, and as they go out; none if a file says none."""
    if "cords_in" not in data and "cords_out" not in data:
        return (), ()
    first = reader.take(data, ("cords_in",), list)
    last = reader.take(data, ("cords_out",), list, first)
    known = list(strands)
    strangers = [name for name in first if not isinstance(name, str) or name not in known]
    if strangers:
        hint = f"known here: {', '.join(known)}"
        reader.problem(("cords_in",), f"there is no strand {strangers[0]!r}", hint)
    elif len(set(first)) < len(first):
        reader.problem(("cords_in",), "a strand is named twice", "name every cord once")
    elif last is not first and (len(last) != len(first) or any(n not in last for n in first)):
        hint = "name each of cords_in once"
        reader.problem(("cords_out",), "these are not the cords that came in", hint)
    else:
        return tuple(first), tuple(last)
    return (), ()


def is_numbers(value: Any, count: int) -> bool:
    return (
        isinstance(value, list)
        and len(value) == count
        and all(isinstance(part, int | float) and not isinstance(part, bool) for part in value)
        and all(map(math.isfinite, value))
    )


def folded(text: str) -> str:
    """Paragraph text with its line ends made spaces."""
    return " ".join(text.split())


_STEP_KEYS = ("cords", "travels", "slope_degrees", "gathers", "around", "faces", "form")


def read_tying(
    reader: Reader, data: Mapping[str, Any], cords_in: Sequence[str], cords_out: Sequence[str]
) -> Tying:
    """The rule in `[steps]`, or that of a knot which only says how its cords come in and go out;
    none where a file says neither."""
    count = len(cords_in)
    out = tuple(cords_in.index(cord) + 1 for cord in cords_out if cords_in != cords_out)
    if "steps" not in data:
        return Tying(count, count, faces=True, out=out) if count else NOT_TIED
    table = reader.take(data, ("steps",), dict)
    reader.known(table, ("steps",), _STEP_KEYS)
    least, most = _limits(reader, table, count)
    rule = Tying(
        least=least,
        most=most,
        travels=_word(reader, table, "travels", ("leader", "worker"), ""),
        slope_degrees=reader.take(table, ("steps", "slope_degrees"), float, 0.0),
        gathers=reader.take(table, ("steps", "gathers"), bool, False),
        around=reader.take(table, ("steps", "around"), bool, False),
        faces=reader.take(table, ("steps", "faces"), bool, False),
        form=_word(reader, table, "form", FORMS, FORMS[0]),
        out=out,
    )
    if not 0 <= rule.slope_degrees < 90:
        message = f"a leader can't be led down by {rule.slope_degrees:g} degrees"
        reader.problem(("steps", "slope_degrees"), message, "write a number from 0 to 89")
    return rule


def _limits(reader: Reader, table: Mapping[str, Any], count: int) -> tuple[int, int]:
    """The least and the most cords; as many as come in, where nothing else is said."""
    found = table.get("cords", [count, count] if count else None)
    whole = is_numbers(found, 2) and all(isinstance(limit, int) for limit in found)
    if whole and 1 <= found[0] <= found[1]:
        return found[0], found[1]
    key = ("steps", "cords") if "cords" in table else ("steps",)
    reader.problem(key, "this does not say on how many cords it is tied", "write cords = [4, 6]")
    return 1, 1


def _word(
    reader: Reader, table: Mapping[str, Any], key: str, words: Sequence[str], usual: str
) -> Any:
    word = reader.take(table, ("steps", key), str, usual)
    if word not in words and word != usual:
        reader.problem(("steps", key), f"{key} can't be {word!r}", f"one of {', '.join(words)}")
        return usual
    return word


def read_measures(reader: Reader, data: Mapping[str, Any]) -> Measures | None:
    """The formula that a file names; None where it names none."""
    if "measures" not in data:
        return None
    table = reader.take(data, ("measures",), dict)
    kind = reader.take(table, ("measures", "kind"), str)
    if kind not in KINDS:
        hint = f"one of {', '.join(KINDS)}"
        reader.problem(("measures", "kind"), f"{kind!r} is no kind of formula", hint)
        return None
    rules = {rule.name: rule for rule in fields(KINDS[kind])}
    reader.known(table, ("measures",), ("kind", *rules))
    values: dict[str, Any] = {}
    for name, rule in rules.items():
        key: KeyPath = ("measures", name)
        if name == "cords":
            found = reader.take(table, key, list)
            if not found or not is_numbers(found, len(found)):
                reader.problem(key, "cords must be numbers, one or one a cord", "write [8.7]")
            values[name] = tuple(found)
        else:
            usual = None if rule.default is MISSING else rule.default
            values[name] = reader.take(table, key, float if usual is None else type(usual), usual)
    return KINDS[kind](**values)
