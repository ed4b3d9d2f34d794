"""Take values out of a knot file's tables, noting each mistake with its line."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from publisher.errors import Place, Problem
from publisher.knots.measures import KINDS, Measures
from publisher.knots.model import Knot, ViewBox
from publisher.knots.tying import NOT_TIED, StepsTable, Tying
from publisher.tables.findings import Findings, KeyPath
from publisher.tables.places import line_of
from publisher.tables.reader import read_table
from publisher.tables.words import nearest


def _no_knot(name: str) -> Knot:
    raise KeyError(name)


@dataclass
class Reader:
    """One file being read: its text, and the problems found so far."""

    text: str
    file: str
    library: Callable[[str], Knot] = _no_knot
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


def read_tying(
    reader: Reader, data: Mapping[str, Any], cords_in: Sequence[str], cords_out: Sequence[str]
) -> Tying:
    """The rule in `[steps]`, or that of a knot which only says how its cords come in and go out;
    none where a file says neither."""
    count = len(cords_in)
    out = tuple(cords_in.index(cord) + 1 for cord in cords_out if cords_in != cords_out)
    if "steps" not in data:
        return Tying((count, count), faces=True, out=out) if count else NOT_TIED
    steps: StepsTable = _filled(reader, "steps", StepsTable, data["steps"]) or StepsTable()
    cords = tuple(steps.cords) or (count, count)
    if not any(cords) or [*cords] != sorted(cords):
        message = "this does not say on how many cords it is tied"
        reader.problem(("steps", "cords"), message, "write cords = [4, 6]")
    return Tying(**(dataclasses.asdict(steps) | {"cords": cords, "out": out}))


def read_measures(reader: Reader, data: Mapping[str, Any]) -> Measures | None:
    """The formula that a file names; None where it names none."""
    if "measures" not in data:
        return None
    table = dict(reader.take(data, ("measures",), dict))
    kind = table.pop("kind", "")
    if isinstance(kind, str) and kind in KINDS:
        found: Measures | None = _filled(reader, "measures", KINDS[kind], table)
        return found
    hint = f"one of {', '.join(KINDS)}"
    reader.problem(("measures", "kind"), f"{kind!r} is no kind of formula", hint)
    return None


def _filled(reader: Reader, name: str, kind: Any, table: Any) -> Any:
    """A dataclass filled from a table of the file; None if it can't be."""
    found = Findings()
    file = read_table(_file_with(name, kind), {name: table}, reader.file, found)
    for one in found.found:
        reader.problem(one.path, one.message, one.hint)
    return getattr(file, name, None)


@cache
def _file_with(name: str, kind: Any) -> Any:
    return dataclasses.make_dataclass("File", [(name, kind)])
