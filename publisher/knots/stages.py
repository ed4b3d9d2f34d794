"""Read the stages of a knot file: how much of each strand is seen, and what moves."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from publisher.knots.model import Stage, Strand, VisibleStretch
from publisher.knots.points import read_points
from publisher.knots.reader import Reader, folded, read_box, read_place
from publisher.tables.findings import KeyPath

STILL_ROLES = ("filler", "leader", "dowel", "guide")
"""Strands of these roles are there in every stage, unless a stage says otherwise."""


_STAGE_KEYS = ("show", "labels", "view", "finished")


def read_stages(
    reader: Reader,
    data: Mapping[str, Any],
    strands: Mapping[str, Strand],
    has_tight: bool,
    *,
    own: bool,
) -> tuple[Stage, ...]:
    """The stages in order. `own`: each has its words with it."""
    stages = []
    before: dict[str, VisibleStretch] = {}
    tables = reader.take(data, ("stages",), list)
    if not tables:
        reader.problem(("stages",), "there is no stage", "add [[stages]] with words")
    for number, table in enumerate(tables):
        key: KeyPath = ("stages", number)
        if not isinstance(table, dict):
            reader.problem(key, "a stage must be a table", "write [[stages]] above its words")
            continue
        reader.known(table, key, (*(["words"] if own else []), *_STAGE_KEYS))
        words = folded(reader.take(table, (*key, "words"), str)) if own else ""
        view = read_box(reader, table, (*key, "view"))
        labels = _labels(reader, table, key, strands)
        if reader.take(table, (*key, "finished"), bool, False):
            if not has_tight:
                hint = "give the strands a tight form"
                reader.problem((*key, "finished"), "there is no tight form to show", hint)
            stages.append(Stage(words, None, labels, view))
            continue
        shown = _read_shown(reader, table, key, strands, before)
        if strands and not shown:
            reader.problem(key, "nothing is shown in this stage", "add show.NAME = { }")
        before |= shown
        stages.append(Stage(words, shown, labels, view))
    return tuple(stages)


def _labels(
    reader: Reader, table: Mapping[str, Any], key: KeyPath, strands: Mapping[str, Strand]
) -> dict[str, complex | None]:
    labels = reader.take(table, (*key, "labels"), dict, {})
    reader.known(labels, (*key, "labels"), tuple(strands))
    return {
        name: None if at is False else read_place(reader, labels, (*key, "labels", name))
        for name, at in labels.items()
    }


def _read_shown(
    reader: Reader,
    table: Mapping[str, Any],
    key: KeyPath,
    strands: Mapping[str, Strand],
    before: Mapping[str, VisibleStretch],
) -> dict[str, VisibleStretch]:
    tables = reader.take(table, (*key, "show"), dict, {})
    reader.known(tables, (*key, "show"), tuple(strands))
    shown = {}
    for name, strand in strands.items():
        if name in tables:
            part_key: KeyPath = (*key, "show", name)
            part = _shown(reader, tables[name], part_key, strand, before.get(name))
            if part is not None:
                shown[name] = part
        elif strand.role in STILL_ROLES:
            shown[name] = before.get(name) or VisibleStretch(
                0, len(strand.points) - 1, moving=False
            )
    return shown


_SHOW_KEYS = ("from", "to", "lead", "tail", "still", "arrow")


def _shown(
    reader: Reader, table: Any, key: KeyPath, strand: Strand, before: VisibleStretch | None
) -> VisibleStretch | None:
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
    shown = VisibleStretch(
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


def _arrows(
    reader: Reader, table: Mapping[str, Any], key: KeyPath, moving: bool
) -> tuple[Any, ...]:
    ways = {"none": (), "start": ("start",), "end": ("end",), "both": ("start", "end")}
    way = reader.take(table, (*key, "arrow"), str, "end" if moving else "none")
    if way not in ways:
        reader.problem((*key, "arrow"), f"{way!r} is no end", f"one of {', '.join(ways)}")
    return ways.get(way, ())


def _mark(
    reader: Reader, table: Mapping[str, Any], key: KeyPath, strand: Strand, default: int
) -> float:
    name = table.get(str(key[-1]))
    if name is None:
        return default
    marks = {point.mark: k for k, point in enumerate(strand.points) if point.mark}
    if not isinstance(name, str) or name not in marks:
        hint = f"marks of {strand.name}: {', '.join(marks) or 'none yet'}"
        reader.problem(key, f"{strand.name} has no point marked {name!r}", hint)
        return default
    return marks[name]
