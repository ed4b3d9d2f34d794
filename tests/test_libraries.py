"""Each library that is installed with the program is called, in the rooms that the table names.

The table is that of DEVELOPERS.md; imports are read from the package's own files.
"""

from __future__ import annotations

import ast
import re
import sys
from collections.abc import Iterator
from importlib.metadata import distribution, packages_distributions
from pathlib import Path

from publisher.catalogue.build.libraries import ALWAYS, SOMETIMES
from tests.support.drivers import ROOT
from tests.support.libraries import PROJECT, closure, named

PACKAGE = ROOT / "publisher"
BY_NAME = {"font_source_sans_pro", "font_source_serif_pro"}
"""Packages of files alone, found by their names."""
MAKING = {"drawing", "fonts", "layout", "manuscript", "plan", "press", "compression"}
"""The rooms that plan, draw and print."""
NOT_BOOKS = {"buyers.py", "imposing.py", "marks.py", "listing.py", "stamping.py"}
"""What in the press works on finished books."""
DEVELOPERS_ALONE = {"fonttools"}


def table() -> dict[str, set[str]]:
    """The rooms of each library."""
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    section = text.split("\n## Libraries\n")[1].split("\n## ")[0]
    rows = re.findall(r"^\| `([^`]+)` \| ([a-z, ]+) \| (.{10,}) \|$", section, re.MULTILINE)
    return {named(name): set(rooms.split(", ")) for name, rooms, _ in rows}


def imports() -> Iterator[tuple[str, Path]]:
    """Every third-party package that a file imports or finds by its name."""
    for path in PACKAGE.rglob("*.py"):
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.Import):
                modules = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom):
                modules = [node.module or ""] if not node.level else []
            elif isinstance(node, ast.Constant) and node.value in BY_NAME:
                modules = [node.value]
            else:
                continue
            for module in modules:
                package = module.partition(".")[0]
                if package not in sys.stdlib_module_names | {"publisher", "_typeshed"}:
                    yield package, path


def rooms_of_each() -> dict[str, set[str]]:
    """The rooms that import each distribution; a part of another one counts as that one."""
    known = packages_distributions()
    found: dict[str, set[str]] = {}
    for package, path in imports():
        own = path.relative_to(PACKAGE).parts[0].removesuffix(".py")
        for name in {named(name) for name in known.get(package, [package])}:
            found.setdefault("pydantic" if name == "pydantic-core" else name, set()).add(own)
    return found


OPTIONAL = {"distributed": {"catalogue"}, "fonttools": {"drawing"}}


def test_rooms_import_the_libraries_that_name_them_and_no_others() -> None:
    assert rooms_of_each() == table() | OPTIONAL


def test_what_is_installed_is_what_is_called() -> None:
    installed = {named(one) for one in PROJECT["dependencies"]}
    assert installed == set(table())
    for extra, name in (("cluster", "distributed"), ("test", "fonttools")):
        assert name in {named(one) for one in PROJECT["optional-dependencies"][extra]}


def test_what_comes_with_a_library_is_needed_by_it() -> None:
    """From what is called, by what each says that it needs here, and no further."""
    reached = closure(table())
    for large in ("matplotlib", "networkx", "pikepdf", "lxml", "pymatching", "fonttools"):
        assert large not in reached
    assert len(reached) < 40


def test_what_is_installed_takes_at_most_350_mb() -> None:
    """The program (twice, for its compiled files), what it needs and pip, in whole blocks of 4 kB
    as disks keep them."""
    parts = [one for name in {*closure(table()), "pip"} for one in distribution(name).files or ()]
    sizes = [
        path.stat().st_size for path in map(Path, (one.locate() for one in parts)) if path.is_file()
    ]
    own = [2 * path.stat().st_size for path in PACKAGE.rglob("*.*") if path.suffix != ".pyc"]
    assert sum(-(-size // 4096) * 4096 for size in (*sizes, *own)) <= 350e6


def test_books_depend_on_the_versions_of_what_makes_them_and_of_nothing_else() -> None:
    known = packages_distributions()
    makes = {
        named(name)
        for package, path in imports()
        if path.relative_to(PACKAGE).parts[0].removesuffix(".py") in MAKING
        and path.name not in NOT_BOOKS
        and package not in BY_NAME
        for name in known.get(package, [package])
    }
    assert {named(name) for name in (*ALWAYS, *SOMETIMES)} == makes - DEVELOPERS_ALONE
