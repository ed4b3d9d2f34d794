"""Find the rules of knots that steps tie: ours, and the writer's own in `knots/` beside a pattern.

Of her own, only what counting cords needs is read here: the drawing is for the plan.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path

from publisher.errors import SourceError
from publisher.frozen import frozen
from publisher.knots.format import TiedTable
from publisher.knots.load import is_tied_as_ours, package_knot
from publisher.knots.reader import Reader, read_cords, read_tying
from publisher.knots.tying import NOT_TIED, Tying
from publisher.tables.reader import read_table
from publisher.tables.schema import rules
from publisher.tables.syntax import parse
from publisher.tables.text_files import read_text

FOLDER = "knots"


@frozen
class Found:
    """A knot's file: its text, and its rule; or why no step can tie it, and what to do."""

    text: str
    rule: Tying = NOT_TIED
    fault: tuple[str, str] = ("", "")


@dataclass(slots=True)
class OwnKnots:
    """The knot files of a folder; each is read when it is first asked for."""

    folder: Path
    found: dict[str, Found | None] = field(default_factory=dict)

    def find(self, name: str) -> Found | None:
        """The knot of a name; None if there is no such file."""
        if name not in self.found:
            path = self.folder / f"{name}.toml"
            there = path.name == f"{name}.toml" and path.is_file()
            self.found[name] = _read(path) if there else None
        return self.found[name]

    def tying(self, name: str) -> Tying:
        """The rule of a knot. Ours are tied as ours, whoever draws them."""
        if is_tied_as_ours(name):
            return package_knot(name).tying
        own = self.find(name)
        return NOT_TIED if own is None else own.rule

    def names(self) -> list[str]:
        """Of all files that are there."""
        return sorted(path.stem for path in self.folder.glob("*.toml"))


def _read(path: Path) -> Found:
    file = f"{FOLDER}/{path.name}"
    told = f"`publisher knots` tells what is wrong in {file}"
    try:
        text = read_text(path)
        data = parse(text, file)
    except SourceError:
        return Found("", NOT_TIED, (f"the file of {path.stem} can't be read", told))
    if "cords_in" not in data and "steps" not in data:
        message = f"the file of {path.stem} does not say how its cords come in"
        return Found(
            text, NOT_TIED, (message, f'add a line such as cords_in = ["A", "B"] to {file}')
        )
    reader = Reader(file, package_knot)
    said = {name: data[name] for name in rules(TiedTable) if name in data}
    table = read_table(TiedTable, said, file, reader.findings) or TiedTable()
    rule = read_tying(reader, table, *read_cords(reader, table, table.cords_in or ()))
    if rule and not reader.findings.found:
        return Found(text, rule)
    return Found(text, NOT_TIED, (f"{path.stem} has no cords to tie", told))
