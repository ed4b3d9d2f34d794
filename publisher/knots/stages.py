"""Read the stages of a knot file: how much of each strand is seen, and what moves."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from publisher.knots.format import OwnStageTable, ShowTable, StageTable
from publisher.knots.model import End, Stage, Strand, VisibleStretch
from publisher.knots.points import read_points
from publisher.knots.reader import Reader
from publisher.tables.findings import KeyPath
from publisher.tables.words import shown as quoted

STILL_ROLES = ("filler", "leader", "dowel", "guide")
"""Strands of these roles are there in every stage, unless a stage says otherwise."""
_ARROWS: Mapping[str, tuple[End, ...]] = {
    "none": (),
    "start": ("start",),
    "end": ("end",),
    "both": ("start", "end"),
}


def read_stages(
    reader: Reader, tables: Sequence[StageTable], strands: Mapping[str, Strand], has_tight: bool
) -> tuple[Stage, ...]:
    """The stages in order; those of a writer's own knot have their words with them."""
    stages = []
    before: dict[str, VisibleStretch] = {}
    for number, table in enumerate(tables):
        key: KeyPath = ("stages", number)
        words = table.words if isinstance(table, OwnStageTable) else ""
        reader.known(table.labels, (*key, "labels"), strands)
        labels = {name: None if at is False else at for name, at in table.labels.items()}
        shown = None
        if table.finished:
            if not has_tight:
                hint = "give the strands a tight form"
                reader.problem((*key, "finished"), "there is no tight form to show", hint)
        else:
            shown = _read_shown(reader, table, key, strands, before)
            if strands and not shown:
                reader.problem(key, "nothing is shown in this stage", "add show.NAME = { }")
            before |= shown
        stages.append(Stage(words, shown, labels, table.view))
    return tuple(stages)


def _read_shown(
    reader: Reader,
    table: StageTable,
    key: KeyPath,
    strands: Mapping[str, Strand],
    before: Mapping[str, VisibleStretch],
) -> dict[str, VisibleStretch]:
    reader.known(table.show, (*key, "show"), strands)
    shown = {}
    for name, strand in strands.items():
        part = table.show.get(name)
        if part:
            way = (*key, "show", name)
            shown[name] = _shown(reader, part, way, strand, before.get(name))
        elif part is None and strand.role in STILL_ROLES:
            shown[name] = before.get(name) or VisibleStretch(
                0, len(strand.points) - 1, moving=False
            )
    return shown


def _shown(
    reader: Reader, table: ShowTable, key: KeyPath, strand: Strand, before: VisibleStretch | None
) -> VisibleStretch:
    start = _mark(reader, table.from_, (*key, "from"), strand, 0)
    end = _mark(reader, table.to, (*key, "to"), strand, len(strand.points) - 1)
    same = before is not None and (start, end) == (before.start, before.end)
    still = same if table.still is None else table.still
    if start >= end:
        reader.problem(key, "it ends before it starts", "change the marks' order")
    return VisibleStretch(
        start,
        end,
        read_points(reader, table.lead, (*key, "lead")) if table.lead is not None else (),
        read_points(reader, table.tail, (*key, "tail")) if table.tail is not None else (),
        (before.start, before.end) if before else None,
        not still,
        _ARROWS[table.arrow or ("none" if still else "end")],
    )


def _mark(reader: Reader, name: str | None, key: KeyPath, strand: Strand, usual: int) -> int:
    if name is None:
        return usual
    marks = {point.mark: k for k, point in enumerate(strand.points) if point.mark}
    if name not in marks:
        hint = f"marks of {strand.name}: {', '.join(marks) or 'none yet'}"
        reader.problem(key, f"{strand.name} has no point marked {quoted(name)}", hint)
    return marks.get(name, usual)
