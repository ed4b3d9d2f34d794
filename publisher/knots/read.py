"""Read a knot file: TOML text to a checked Knot, every mistake with its line."""

from __future__ import annotations

import difflib
import re
import tomllib
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from publisher.errors import Place, Problem
from publisher.knots.curve import Point
from publisher.knots.model import Box, Form, Knot, Role, Shown, Stage, Strand
from publisher.knots.places import line_of

SIDES = ("left", "right")
FACES = (
    ("in front of", "behind"),
    ("the front", "the back"),
    ("over", "under"),
    ("forward", "backward"),
)
ROLES: tuple[Role, ...] = ("working", "second", "filler", "leader", "dowel")
STILL_ROLES = ("filler", "leader", "dowel")
"""Strands of these roles are there in every stage, unless a stage says otherwise."""

Key = tuple[str | int, ...]


@dataclass
class Reader:
    """One file being read: its text, and the problems found so far."""

    text: str
    file: str
    problems: list[Problem] = field(default_factory=list)

    def problem(self, key: Key, message: str, hint: str, line: int = 0) -> None:
        """Note a mistake at a key's line, or `line` lines below it (in a text of points)."""
        found = line_of(self.text, key)
        place = Place(self.file, None if found is None else found + line)
        self.problems.append(Problem(place, message, hint))

    def take(self, table: Mapping[str, Any], key: Key, kind: type, default: Any = None) -> Any:
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
        return value

    def known(self, table: Mapping[str, Any], key: Key, names: tuple[str, ...]) -> None:
        for name in table:
            if name not in names:
                near = difflib.get_close_matches(name, names, 1)
                hint = f"did you mean {near[0]}?" if near else f"known here: {', '.join(names)}"
                self.problem((*key, name), f"{name} is not known here", hint)


_KINDS = {
    str: "a text",
    float: "a number",
    int: "a whole number",
    bool: "true or false",
    list: "a list",
    dict: "a table",
}
_POINT = re.compile(
    r"(-?[\d.]+)\s+(-?[\d.]+)\s+(-?[\d.]+)(?:\s+@(-?[\d.]+))?(?:\s+([A-Za-z][\w-]*))?\Z"
)
_TOML_PLACE = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)")


def read_knot(
    text: str, file: str, name: str, library: Callable[[str], Knot]
) -> tuple[Knot | None, list[Problem]]:
    """The knot in a file's text, and every problem; the knot is None if there is any.

    `library` gives another knot by name (KeyError if there is none), for a file that says `of`.
    """
    reader = Reader(text, file)
    try:
        data = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        found = _TOML_PLACE.search(str(error))
        place = Place(file, int(found[1]), int(found[2])) if found and found[1] else Place(file)
        words = _TOML_PLACE.sub("", str(error))
        return None, [Problem(place, f"this is not TOML: {words}", "mend the line")]
    knot = _derived(reader, data, name, library) if "of" in data else _drawn(reader, data, name)
    return (None if reader.problems else knot), reader.problems


_WORD_KEYS = ("format", "kind", "titles", "abbreviation", "way", "intro", "check", "uses")
_DRAWN_KEYS = (*_WORD_KEYS, "sides", "view", "tight_view", "strands", "stages")


def _drawn(reader: Reader, data: Mapping[str, Any], name: str) -> Knot:
    reader.known(data, (), _DRAWN_KEYS)
    _check_format(reader, data)
    strands: dict[str, Strand] = {}
    tight: dict[str, Strand] = {}
    for strand_name, table in reader.take(data, ("strands",), dict).items():
        _read_strand(reader, strand_name, table, strands, tight)
    view = _box(reader, data, "view", strands)
    tight_form = Form(tight, _box(reader, data, "tight_view", tight)) if tight else None
    stages = _read_stages(reader, data, strands, tight_form is not None)
    sides = reader.take(data, ("sides",), list, list(SIDES))
    return Knot(
        name=name,
        kind=reader.take(data, ("kind",), str, "knot"),
        titles=tuple(reader.take(data, ("titles",), list)) or (name,),
        abbreviation=reader.take(data, ("abbreviation",), str, ""),
        way=reader.take(data, ("way",), str, ""),
        intro=_folded(reader.take(data, ("intro",), str)),
        check=_folded(reader.take(data, ("check",), str, "")),
        uses=tuple(reader.take(data, ("uses",), list, [])),
        loose=Form(strands, view),
        tight=tight_form,
        stages=stages,
        sides=(sides[0], sides[1]),
        faces=FACES,
    )


def _check_format(reader: Reader, data: Mapping[str, Any]) -> None:
    if reader.take(data, ("format",), int, 0) != 1:
        reader.problem(("format",), "the format of this file is not known", "write format = 1")


def _derived(
    reader: Reader, data: Mapping[str, Any], name: str, library: Callable[[str], Knot]
) -> Knot | None:
    from publisher.knots.derive import derived

    return derived(reader, data, name, library)


_STRAND_KEYS = ("role", "label", "label_at", "diameter", "points", "tight", "tight_label_at")


def _read_strand(
    reader: Reader,
    name: str,
    table: Any,
    loose: dict[str, Strand],
    tight: dict[str, Strand],
) -> None:
    key: Key = ("strands", name)
    if not isinstance(table, dict):
        reader.problem(key, f"{name} must be a table", f"write [strands.{name}]")
        return
    reader.known(table, key, _STRAND_KEYS)
    role = reader.take(table, (*key, "role"), str)
    if role not in ROLES:
        reader.problem((*key, "role"), f"{role!r} is no role", f"one of {', '.join(ROLES)}")
    diameter = reader.take(table, (*key, "diameter"), float, 1.0)
    label = reader.take(table, (*key, "label"), str, "")

    def strand(points_key: str, label_key: str) -> Strand:
        points = read_points(reader, table[points_key], (*key, points_key), least=2)
        at = _place(reader, table, (*key, label_key))
        return Strand(name, role, points, diameter, label, at)

    reader.take(table, (*key, "points"), str)
    if isinstance(table.get("points"), str):
        loose[name] = strand("points", "label_at")
    if isinstance(table.get("tight"), str):
        tight[name] = strand("tight", "tight_label_at")


def read_points(reader: Reader, text: Any, key: Key, least: int = 1) -> tuple[Point, ...]:
    """Points one a line (or parted by semicolons): `x y z`, perhaps `@heading`, perhaps a mark."""
    if not isinstance(text, str):
        reader.problem(key, f"{key[-1]} must be a text of points", 'write """x y z""", a line each')
        return ()
    points: list[Point] = []
    for number, line in enumerate(text.split("\n")):
        for part in line.split(";"):
            if not part.strip():
                continue
            point = _point(part)
            if point is None:
                hint = "write x y z, then perhaps @heading and a mark"
                reader.problem(key, f"{part.strip()!r} is no point", hint, number)
            elif points and abs(points[-1].xy - point.xy) < 0.01:
                hint = "leave one out, or move it by 0.01 at least"
                reader.problem(key, "two points in a row lie at one place", hint, number)
            else:
                points.append(point)
    if len(points) < least:
        reader.problem(key, f"{key[-1]} has too few points", f"it needs {least} at least")
        points = [Point(0, 0, 0), Point(0, 1, 0)]
    return tuple(points)


def _point(text: str) -> Point | None:
    found = _POINT.match(text.strip())
    if not found:
        return None
    try:
        heading = float(found[4]) if found[4] else None
        return Point(float(found[1]), float(found[2]), float(found[3]), heading, found[5])
    except ValueError:
        return None


def _place(reader: Reader, table: Mapping[str, Any], key: Key) -> complex | None:
    value = table.get(str(key[-1]))
    if value is None:
        return None
    if not _numbers(value, 2):
        reader.problem(key, f"{key[-1]} must be a place", "write [x, y]")
        return None
    return complex(*value)


def _numbers(value: Any, count: int) -> bool:
    return (
        isinstance(value, list)
        and len(value) == count
        and all(isinstance(part, int | float) and not isinstance(part, bool) for part in value)
    )


def _box(reader: Reader, data: Mapping[str, Any], name: str, strands: Mapping[str, Strand]) -> Box:
    value = data.get(name)
    if value is None:
        places = [p.xy for s in strands.values() for p in s.points] or [0j, 1 + 1j]
        xs, ys = [p.real for p in places], [p.imag for p in places]
        return Box(min(xs) - 0.5, min(ys) - 0.5, max(xs) + 0.5, max(ys) + 0.5)
    if not _numbers(value, 4) or value[0] >= value[2] or value[1] >= value[3]:
        reader.problem((name,), f"{name} must be a box", "write [left, top, right, bottom]")
        return Box(0, 0, 1, 1)
    return Box(*map(float, value))


def _read_stages(
    reader: Reader, data: Mapping[str, Any], strands: Mapping[str, Strand], has_tight: bool
) -> tuple[Stage, ...]:
    stages = []
    before: dict[str, Shown] = {}
    tables = reader.take(data, ("stages",), list)
    if not tables:
        reader.problem(("stages",), "there is no stage", "add [[stages]] with words")
    for number, table in enumerate(tables):
        key: Key = ("stages", number)
        reader.known(table, key, ("words", "show", "labels", "finished"))
        words = _folded(reader.take(table, (*key, "words"), str))
        labels = _labels(reader, table, key, strands)
        if reader.take(table, (*key, "finished"), bool, False):
            if not has_tight:
                hint = "give the strands a tight form"
                reader.problem((*key, "finished"), "there is no tight form to show", hint)
            stages.append(Stage(words, None, labels))
            continue
        shown = _read_shown(reader, table, key, strands, before)
        before |= shown
        stages.append(Stage(words, shown, labels))
    return tuple(stages)


def _labels(
    reader: Reader, table: Mapping[str, Any], key: Key, strands: Mapping[str, Strand]
) -> dict[str, complex | None]:
    labels = reader.take(table, (*key, "labels"), dict, {})
    reader.known(labels, (*key, "labels"), tuple(strands))
    return {
        name: None if at is False else _place(reader, labels, (*key, "labels", name))
        for name, at in labels.items()
    }


def _read_shown(
    reader: Reader,
    table: Mapping[str, Any],
    key: Key,
    strands: Mapping[str, Strand],
    before: Mapping[str, Shown],
) -> dict[str, Shown]:
    tables = reader.take(table, (*key, "show"), dict, {})
    reader.known(tables, (*key, "show"), tuple(strands))
    shown = {}
    for name, strand in strands.items():
        if name in tables:
            part_key: Key = (*key, "show", name)
            part = _shown(reader, tables[name], part_key, strand, before.get(name))
            if part is not None:
                shown[name] = part
        elif strand.role in STILL_ROLES:
            shown[name] = before.get(name) or Shown(0, len(strand.points) - 1, moving=False)
    return shown


_SHOW_KEYS = ("from", "to", "lead", "tail", "still", "arrow")


def _shown(
    reader: Reader, table: Any, key: Key, strand: Strand, before: Shown | None
) -> Shown | None:
    if table is False:
        return None
    if not isinstance(table, dict):
        reader.problem(key, f"{key[-1]} must be a table or false", "write { to = … }")
        return None
    reader.known(table, key, _SHOW_KEYS)
    start = _mark(reader, table, (*key, "from"), strand, 0)
    end = _mark(reader, table, (*key, "to"), strand, len(strand.points) - 1)
    same = before is not None and (start, end) == (before.start, before.end)
    still = reader.take(table, (*key, "still"), bool, same)
    shown = Shown(
        start,
        end,
        read_points(reader, table["lead"], (*key, "lead")) if "lead" in table else (),
        read_points(reader, table["tail"], (*key, "tail")) if "tail" in table else (),
        (before.start, before.end) if before else None,
        not still,
        _arrows(reader, table, key, not still),
    )
    if start >= end:
        reader.problem(key, "it ends before it starts", "change the marks' order")
    return shown


def _arrows(reader: Reader, table: Mapping[str, Any], key: Key, moving: bool) -> tuple[Any, ...]:
    ways = {"none": (), "start": ("start",), "end": ("end",), "both": ("start", "end")}
    way = reader.take(table, (*key, "arrow"), str, "end" if moving else "none")
    if way not in ways:
        reader.problem((*key, "arrow"), f"{way!r} is no end", f"one of {', '.join(ways)}")
    return ways.get(way, ())


def _mark(
    reader: Reader, table: Mapping[str, Any], key: Key, strand: Strand, default: int
) -> float:
    name = table.get(str(key[-1]))
    if name is None:
        return default
    marks = {point.mark: k for k, point in enumerate(strand.points) if point.mark}
    if name not in marks:
        hint = f"marks of {strand.name}: {', '.join(marks) or 'none yet'}"
        reader.problem(key, f"{strand.name} has no point marked {name!r}", hint)
        return default
    return marks[name]


def _folded(text: str) -> str:
    """Paragraph text with its line ends made spaces."""
    return " ".join(text.split())
