"""Read a look: look.toml, with what an edition changes laid over it, each fault at its line."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Any

from publisher.drawing.look_rules import NEEDED, check_look
from publisher.frozen import frozen
from publisher.model.colour import Colour
from publisher.model.look import ChartLook, FrameLook, Look, Paper, TypeStyle
from publisher.tables.findings import Findings, KeyPath
from publisher.tables.messages import say_missing, say_unknown
from publisher.tables.reader import read_table
from publisher.tables.schema import PLAIN, after, hex_colour, number, whole
from publisher.tables.shape import Shape
from publisher.tables.syntax import parse
from publisher.tables.words import nearest
from publisher.templates import TemplateFile, Templates

_FILE = "look.toml"
_LARGEST = 10_000
"""Sizes in mm and pt are less: more is a slip, or no number at all."""
LEAVES = {
    **PLAIN,
    int: whole(0, _LARGEST),
    float: number(0, _LARGEST),
    Colour: after(Colour.from_hex, hex_colour()),
}


@frozen(kw_only=True)
class LookTable:
    """`look.toml`"""

    mono: bool
    colours: Mapping[str, Colour]
    lines: Mapping[str, float]
    type: Mapping[str, TypeStyle]
    papers: Mapping[str, Paper]
    frame: FrameLook
    chart: ChartLook


def read_look(
    templates: Templates,
    paper: str,
    findings: Findings,
    edition: TemplateFile | None = None,
    changes: Mapping[str, Any] = MappingProxyType({}),
) -> Look | None:
    """The look of a paper. `changes`: what the file of an edition changes; what is wrong is found
    in that file or in look.toml, and then there is no look."""
    house, base = templates.file(_FILE), templates.table(_FILE)
    data = _merged(base, changes)
    papers = data.get("papers")
    if isinstance(papers, Mapping):
        data["papers"] = {name: papers[name] for name in papers if name == paper}
    installed = parse(house.instead_of, _FILE) if house.instead_of else base
    own = Findings()
    table = read_table(LookTable, data, house.path, own, leaves=LEAVES, like=installed)
    look = None
    if table:
        shape = Shape(LookTable, data, LEAVES, installed)
        faults = list(_lacking(table, shape, paper))
        if not faults and not own.found:
            look = _look(table, paper, repr(data))
            for fault in (fault.on_paper(paper) for fault in check_look(look)):
                way = tuple(fault.key.split("."))
                faults.append((way, f"`{fault.key}` {fault.what}", fault.hint))
        for path, what, hint in faults:
            own.add(house.path, path, what, hint)
    for finding in own.found:
        path, file = own.way(finding), house
        if edition and _is_editions(path, base, changes, house, edition):
            path, file = ("look", *path), edition
        findings.add(file.path, path, finding.message, finding.hint)
    return None if own.found else look


def _look(table: LookTable, paper: str, key: str) -> Look:
    return Look(
        mono=table.mono,
        colours=MappingProxyType(table.colours),
        lines=MappingProxyType(table.lines),
        type=MappingProxyType(table.type),
        paper=table.papers[paper],
        frame=table.frame,
        chart=table.chart,
        key=key,
    )


def _lacking(table: LookTable, shape: Shape, paper: str) -> Iterator[tuple[KeyPath, str, str]]:
    """Yield the names that the program draws with and the look does not give. It may give others,
    one of which may be meant."""
    for group, names in {**NEEDED, "papers": (paper,)}.items():
        given = getattr(table, group)
        for name in names:
            if name not in given:
                near = nearest(name, [other for other in given if other not in names])
                missing = say_missing(shape, (group, name))
                yield (group, near or name), *say_unknown(near or "", near and name, missing)


def _is_editions(
    path: KeyPath,
    base: Mapping[str, Any],
    changes: Mapping[str, Any],
    house: TemplateFile,
    edition: TemplateFile,
) -> bool:
    """Return whether a fault is told in the edition's file: in the one that has the key, and in
    the writer's, if only one of both is hers."""
    here, there = _depth(changes, path), _depth(base, path)
    changed = here == len(path) or here > there or (house.as_installed and bool(changes))
    return changed and not (edition.as_installed and not house.as_installed)


def _depth(table: Any, path: KeyPath) -> int:
    """Return how many of the keys, one below the other, are there."""
    for depth, key in enumerate(path):
        if not isinstance(table, Mapping) or key not in table:
            return depth
        table = table[key]
    return len(path)


def _merged(base: Mapping[str, Any], changes: Mapping[str, Any]) -> dict[str, Any]:
    """`base` with the changes laid over it, table by table."""
    merged = dict(base)
    for key, value in changes.items():
        old = merged.get(key)
        both = isinstance(old, Mapping) and isinstance(value, Mapping)
        merged[key] = _merged(old, value) if both else value  # type: ignore[arg-type]
    return merged
