"""The writer's template files as values: texts by name, and TOML tables read from them."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import field
from functools import lru_cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

from publisher.errors import Place, Problem, SourceError, TemplateError
from publisher.frozen import frozen
from publisher.tables.syntax import parse

if TYPE_CHECKING:
    from publisher.tables.findings import Findings, KeyPath

Value = TypeVar("Value")
KNOT_WORDS = "words/en-knots.toml"
"""The word list of our knots."""


def _no_faults(value: object) -> Iterable[tuple[KeyPath, str, str]]:
    return ()


@frozen
class TemplateFile:
    """One file: its text, where it was read from, and whether it came so with the package.

    `instead_of`: the text that came with the package under its name, if that is another.
    """

    text: str
    path: str
    as_installed: bool = False
    instead_of: str = ""

    def place(self, *keys: str | int) -> Place:
        """The line of a key; of one that is missing, that of the table that lacks it."""
        from publisher.tables.places import line_of

        return Place(self.path, line_of(self.text, keys))


@frozen
class Templates:
    """The template files by name (`pages/chart.svg`, `words/en.toml`, …), each read just once.

    `used` collects the names that were asked for, so that what depends on which file is known.
    """

    files: Mapping[str, TemplateFile]
    used: set[str] = field(default_factory=set, compare=False)

    def file(self, name: str) -> TemplateFile:
        """The file of a name; TemplateError if neither the writer nor the package has it."""
        self.used.add(name)
        found = self.files.get(name)
        if found is None:
            raise TemplateError(
                Problem(Place(f"templates/{name}"), "there is no such file", "put it there")
            )
        return found

    def text(self, name: str) -> str:
        return self.file(name).text

    def table(self, name: str) -> dict[str, Any]:
        """A TOML file as a table; TemplateError with the line where it is not TOML."""
        found = self.file(name)
        try:
            return dict(_parsed(found.text, found.path))
        except SourceError as error:
            raise TemplateError(*error.problems) from None

    def read(
        self,
        name: str,
        kind: type[Value],
        faults: Callable[[Value], Iterable[tuple[KeyPath, str, str]]] = _no_faults,
    ) -> Value:
        """A TOML file as a value; TemplateError with every mistake at its line. `faults` yields
        what else is wrong with it: a key path, what it is, what to do."""
        from publisher.tables.findings import Findings
        from publisher.tables.reader import read_table

        file, findings = self.file(name), Findings()
        value = read_table(kind, self.table(name), file.path, findings)
        for path, what, hint in faults(value) if value else ():
            findings.add(file.path, path, what, hint)
        if value is None or findings.found:
            raise self.error(findings)
        return value

    def error(self, findings: Findings) -> TemplateError:
        """Return an error of what was found in some files, each mistake at its line."""
        from publisher.tables.locate import locate

        return TemplateError(*locate(findings, {one.path: one.text for one in self.files.values()}))

    def names(self, folder: str) -> Iterator[str]:
        """Names without folder and ending, sorted: `names("editions")` gives booklet, handout, …"""
        for name in sorted(self.files):
            if name.startswith(f"{folder}/"):
                yield name.removeprefix(f"{folder}/").rsplit(".", 1)[0]


@lru_cache(maxsize=32)
def _parsed(text: str, path: str) -> Mapping[str, Any]:
    """A TOML text as a table, read once however many books ask for it."""
    return parse(text, path)


def installed_folder() -> Path:
    """The templates that came with the package: inside it, or beside it in a working copy."""
    package = Path(__file__).resolve().parent
    inside = package / "_templates"
    return inside if inside.is_dir() else package.parent / "templates"
