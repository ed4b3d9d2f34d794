"""A knot is a file: the program's code names none of them."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import publisher
from publisher.knots import load_knots
from publisher.knots.defaults import defaults

PACKAGE = Path(publisher.__file__).parent
NAME = re.compile(r"[a-z]+(?:-[a-z]+)*")


def literals(tree: ast.AST) -> Iterator[ast.Constant]:
    """The texts in code, those in f-strings too, without docstrings and texts that stand alone."""
    alone = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in alone:
            yield node


def named(text: str, names: set[str]) -> set[str]:
    """The knots that a text names: as all of it, in quotation marks, or by a name of several words,
    which says a knot wherever it stands."""
    quoted = {*re.findall(r"[\"']([a-z-]+)[\"']", text), text}
    return names & (quoted | {word for word in NAME.findall(text) if "-" in word})


def test_a_name_is_found_wherever_it_stands_in_a_text() -> None:
    code = 'def f():\n    """Tie a "square-knot"."""\n    return f\'tie = "overhand", {x}-knot\''
    assert [text.value for text in literals(ast.parse(code))] == ['tie = "overhand", ', "-knot"]
    assert named('tie = "overhand", ', {"overhand", "square-knot"}) == {"overhand"}
    assert named("an overhand knot", {"overhand"}) == set()
    assert named("see square-knot.toml", {"square-knot"}) == {"square-knot"}


def test_no_knot_is_named_in_code() -> None:
    names = {*load_knots()}
    found = [
        f"{path.relative_to(PACKAGE)}:{text.lineno}: {', '.join(sorted(knots))}"
        for path in sorted(PACKAGE.rglob("*.py"))
        for text in literals(ast.parse(path.read_text("utf-8")))
        if (knots := named(str(text.value), names))
    ]
    assert not found, "name it in knots/defaults.toml, or say in its own file what is so of it"


def test_the_defaults_name_knots_of_the_library() -> None:
    names, ours = {*load_knots()}, defaults()
    used = (ours.mount, ours.chart, ours.yarn_ends, ours.cord_ends, ours.wrap, ours.example)
    for name in (*used, *ours.order, *ours.handling.values()):
        assert name in names
    knots = load_knots()
    assert all(knots[name].kind == "procedure" for name in ours.handling.values())
    assert knots[ours.mount].mounts
    assert knots[ours.chart].fills_cells
    assert knots[ours.example].tying
