"""Share what all parts of a knot file's reading need: its mistakes so far, and other knots; read
how a knot is tied and what it takes."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any

from publisher.knots.format import TiedTable
from publisher.knots.measures import KINDS, Measures
from publisher.knots.model import Knot
from publisher.knots.tying import NOT_TIED, Tying, TyingTable
from publisher.tables.findings import Finding, Findings, KeyPath
from publisher.tables.reader import read_table
from publisher.tables.words import listed, nearest, shown


def _no_knot(name: str) -> Knot:
    raise KeyError(name)


@dataclass
class Reader:
    """One file being read, and what was found wrong so far."""

    file: str
    library: Callable[[str], Knot] = _no_knot
    """Another knot by name; KeyError if there is none."""
    findings: Findings = field(default_factory=Findings)

    def problem(self, key: KeyPath, message: str, hint: str, row: int | None = None) -> None:
        """Find a mistake at a key, or in a line (from 0) of the text that is its value."""
        if row is None:
            self.findings.add(self.file, key, message, hint)
        else:
            self.findings.add_inside(Finding(self.file, key, message, hint, row))

    def known(self, given: Iterable[str], key: KeyPath, names: Iterable[str]) -> None:
        """Find each name that is none of those that are known."""
        known = list(names)
        for name in given:
            if name not in known:
                near = nearest(name, known)
                hint = f"did you mean `{near}`?" if near else f"use one of {listed(known)}"
                self.problem((*key, name), f"nothing here is called `{name}`", hint)


def read_cords(
    reader: Reader, table: TiedTable, strands: Iterable[str]
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The strands from the left as they come in, and as they go out; none if a file says none."""
    if table.cords_in is None and table.cords_out is None:
        return (), ()
    first = table.cords_in or []
    last = first if table.cords_out is None else table.cords_out
    known = list(strands)
    strangers = [name for name in first if name not in known]
    if not first:
        reader.problem(("cords_in",), "no cord comes in", 'write cords_in = ["A", "B"]')
    elif strangers:
        message = f"there is no strand {shown(strangers[0])}"
        reader.problem(("cords_in",), message, f"use those of {listed(known)}")
    elif len(set(first)) < len(first):
        reader.problem(("cords_in",), "a strand is named twice", "name every cord once")
    elif sorted(last) != sorted(first):
        hint = "name each of cords_in once"
        reader.problem(("cords_out",), "these are not the cords that came in", hint)
    else:
        return tuple(first), tuple(last)
    return (), ()


def read_tying(
    reader: Reader, table: TiedTable, cords_in: Sequence[str], cords_out: Sequence[str]
) -> Tying:
    """The rule in `[steps]`, or that of a knot which only says how its cords come in and go out;
    none where a file says neither."""
    count = len(cords_in)
    out = tuple(cords_in.index(cord) + 1 for cord in cords_out if cords_in != cords_out)
    if table.steps is None:
        return Tying((count, count), faces=True, out=out) if count else NOT_TIED
    steps: TyingTable = table.steps
    cords = tuple(steps.cords) or (count, count)
    if not any(cords) or [*cords] != sorted(cords):
        message = "this does not say on how many cords it is tied"
        reader.problem(("steps", "cords"), message, "write cords = [4, 6]")
    return Tying(**(dataclasses.asdict(steps) | {"cords": cords, "out": out}))


def read_measures(reader: Reader, table: Mapping[str, Any] | None) -> Measures | None:
    """The formula that a file names; None where it names none."""
    if table is None:
        return None
    kind = table.get("kind")
    if isinstance(kind, str) and kind in KINDS:
        constants = {name: value for name, value in table.items() if name != "kind"}
        at = ("measures",)
        return read_table(KINDS[kind], constants, reader.file, reader.findings, at=at)
    hint = f"it can be {' or '.join(map(shown, KINDS))}"
    reader.problem(("measures", "kind"), f"`kind` can't be {shown(kind or '')}", hint)
    return None
