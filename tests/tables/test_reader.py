"""Whatever is wrong in a table is told once, at its own line, with what to write in its place.

Right files of each format are spoilt in one place or several, and read again.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping
from dataclasses import field
from pathlib import Path
from typing import Any, Literal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.catalogue.release.pictures import Listing
from publisher.errors import Problem
from publisher.frozen import frozen
from publisher.knots.format import KnotTable, TurnedTable
from publisher.manuscript.look import LEAVES, LookTable
from publisher.manuscript.options import EditionTable, ErrataTable
from publisher.source.format.files import HouseTable, PatternTable
from publisher.tables.findings import Findings, KeyPath
from publisher.tables.locate import locate
from publisher.tables.places import Places
from publisher.tables.reader import build, read_table
from publisher.tables.schema import (
    PLAIN,
    by_kind,
    choice,
    key,
    required_keys,
    rows_of,
    table_schema,
    whole,
)
from publisher.tables.shape import Shape
from tests.support.shop import ROOT, installed

FILE = "file.toml"
WRONG = "[[1]]"
"""No key of any format can be that."""


def pattern(name: str) -> str:
    return (ROOT / "patterns" / f"{name}.toml").read_text("utf-8")


def knot(name: str) -> str:
    return (ROOT / "publisher/knots/library" / f"{name}.toml").read_text("utf-8")


FORMATS: Mapping[str, tuple[type, str]] = {
    "pattern": (PatternTable, pattern("kingfisher-over-reeds")),
    "pattern of steps": (PatternTable, pattern("lock-keepers-key-cord")),
    "house": (HouseTable, pattern("house")),
    "look": (LookTable, installed().text("look.toml")),
    "edition": (EditionTable, installed().text("editions/handout.toml").split("[look.")[0]),
    "errata": (ErrataTable, installed().text("errata.toml")),
    "listing": (Listing, installed().text("listing.toml")),
    "knot": (KnotTable, knot("square-knot")),
    "turned knot": (TurnedTable, knot("reverse-larks-head")),
}


def read(kind: type, text: str) -> tuple[Any, list[Problem]]:
    """The value of a file's text, and what is wrong in it."""
    findings = Findings()
    leaves = LEAVES if kind is LookTable else PLAIN
    like = tomllib.loads(installed().text("look.toml")) if kind is LookTable else {}
    value = read_table(kind, tomllib.loads(text), FILE, findings, leaves=leaves, like=like)
    return value, locate(findings, {FILE: text})


def ways(table: Any, way: KeyPath = ()) -> Iterator[KeyPath]:
    """The ways to all keys."""
    items = table.items() if isinstance(table, dict) else ()
    if isinstance(table, list):
        items = enumerate(table)
    for name, value in items:
        if isinstance(name, str):
            yield (*way, name)
        yield from ways(value, (*way, name))


def written(name: str | int) -> re.Pattern[str]:
    """A key with its value, where both stand in one line."""
    value = r'"[^"]*"(?!")|\[[^\[\]]*\]|\{[^{}]*\}|[^"\[{,}\s#]+'
    return re.compile(rf"(?<![\w-]){re.escape(str(name))} = ({value})")


def keys(kind: type, text: str) -> list[tuple[KeyPath, int]]:
    """The ways to keys that stand, with their values, in one line, each with that line."""
    places, lines = Places(text), text.split("\n")
    found = [(way, places.line(way)) for way in ways(tomllib.loads(text))]
    return [
        (way, line)
        for way, line in found
        if len(written(way[-1]).findall(lines[line - 1])) == 1
        and Shape(kind, tomllib.loads(text)).table(way[:-1])
    ]


def changed(text: str, line: int, name: str | int, new: str) -> str:
    lines = text.split("\n")
    lines[line - 1] = written(name).sub(lambda _: new, lines[line - 1])
    return "\n".join(lines)


@pytest.mark.parametrize("name", FORMATS)
def test_a_right_file_is_read_without_a_word(name: str) -> None:
    value, told = read(*FORMATS[name])
    assert isinstance(value, FORMATS[name][0])
    assert not told


@pytest.mark.parametrize("name", FORMATS)
def test_a_wrong_value_is_told_once_at_its_line(name: str) -> None:
    kind, text = FORMATS[name]
    known = keys(kind, text)
    assert known
    for way, line in known:
        _, told = read(kind, changed(text, line, way[-1], f"{way[-1]} = {WRONG}"))
        assert [problem.place.line for problem in told] == [line], way
        assert f"`{way[-1]}`" in told[0].message, told
        assert told[0].hint and told[0].hint != "look at it again", told


@pytest.mark.parametrize("name", FORMATS)
def test_a_misspelt_key_is_told_once_at_its_line_with_the_key_that_was_meant(name: str) -> None:
    kind, text = FORMATS[name]
    for way, line in keys(kind, text):
        right = str(way[-1])
        wrong = f"{right[:-1]}q" if len(right) > 3 else f"{right}q"
        (value,) = written(right).findall(text.split("\n")[line - 1])
        _, told = read(kind, changed(text, line, right, f"{wrong} = {value}"))
        assert [problem.place.line for problem in told if wrong in problem.message] == [line], told
        if len(right) > 3:
            assert [problem.hint for problem in told] == [f"did you mean `{right}`?"]


@pytest.mark.parametrize("name", FORMATS)
def test_a_missing_key_is_told_once_at_the_table_that_lacks_it(name: str) -> None:
    kind, text = FORMATS[name]
    missing = 0
    for way, line in keys(kind, text):
        owner = Shape(kind, tomllib.loads(text)).table(way[:-1])
        begins = text.split("\n")[line - 1].startswith(f"{way[-1]} = ")
        if not owner or way[-1] not in required_keys(owner) or not begins:
            continue
        missing += 1
        shorter = changed(text, line, way[-1], "")
        _, told = read(kind, shorter)
        assert [problem.place.line for problem in told] == [Places(shorter).line(way[:-1])], way
        assert f"has no `{way[-1]}`" in told[0].message
        assert told[0].hint.startswith("add a line such as "), told
    assert missing


@pytest.mark.parametrize("name", FORMATS)
@settings(max_examples=25, deadline=None)
@given(data=st.data())
def test_several_wrong_values_are_told_once_each(name: str, data: st.DataObject) -> None:
    kind, text = FORMATS[name]
    by_line = {line: way for way, line in keys(kind, text)}
    lines = data.draw(st.sets(st.sampled_from(sorted(by_line)), min_size=1, max_size=8))
    for line in lines:
        text = changed(text, line, by_line[line][-1], f"{by_line[line][-1]} = {WRONG}")
    _, told = read(kind, text)
    assert [problem.place.line for problem in told] == sorted(lines)


@frozen(kw_only=True)
class Reed:
    kind: str = "reed"
    length_mm: int = key(whole(1, 9), "How long.", "length_mm = 3", stand_in=1)


@frozen(kw_only=True)
class Bank:
    """A format with most of what formats can have."""

    name: str
    sides: Mapping[str, tuple[float, ...]] = field(default_factory=dict)
    reeds: list[Reed] = key(rows_of(table_schema(Reed)), "The reeds.", "[[reeds]]", make=list)
    steep: bool = False
    turn: str = key(choice("left", "right"), "Its way.", 'turn = "left"', usual="left")


RIGHT = 'name = "weir"\nsides.left = [1, 2.5]\nturn = "right"\n[[reeds]]\nlength_mm = 2\n'


def test_a_dataclass_is_filled_by_its_annotations_and_rules() -> None:
    value, told = read(Bank, RIGHT)
    assert not told
    reeds = [Reed(length_mm=2)]
    assert value == Bank(name="weir", sides={"left": (1.0, 2.5)}, reeds=reeds, turn="right")


@pytest.mark.parametrize(
    ("old", "new", "told"),
    [
        ('"weir"', "3", '1: `name` must be a text in quotes; write name = "3"'),
        ("2.5]", "nan]", "2: `left` must be a number, not nan; look at it again"),
        ('"right"', '"rihgt"', '3: `turn` can\'t be "rihgt"; did you mean "right"?'),
        ('"right"', "1", '3: `turn` can\'t be 1; it can be "left" or "right"'),
        ("= 2\n", "= 12\n", "5: `length_mm` is 12, but the most is 9; write it like this: "),
        ("= 2\n", '= "2"\n', "5: `length_mm` has quotes round its number; write length_mm = 2"),
        ("= 2\n", "= 2\nsteep = true\n", "6: nothing in a reed is called `steep`; it belongs at"),
        ("turn =", "length_mm = 1\nturn =", "3: nothing in the top part of this file is called "),
        ("[[reeds]]\nlength_mm = 2", "[reeds]", "4: [reeds] needs two brackets on each side; wr"),
        ("[[reeds]]\nlength_mm = 2", "reeds = [1]", "4: reed 1 must be a table; begin it with a "),
    ],
)
def test_what_is_wrong_is_told_with_what_to_do(old: str, new: str, told: str) -> None:
    _, problems = read(Bank, RIGHT.replace(old, new))
    assert [str(problem).startswith(f"{FILE}:{told}") for problem in problems] == [True], problems


def test_what_is_under_a_misspelt_key_is_read_and_its_faults_told_where_it_stands() -> None:
    value, told = read(Bank, RIGHT.replace("length_mm = 2", "length = 12"))
    assert [str(problem) for problem in told] == [
        f"{FILE}:5: nothing here is called `length`; did you mean `length_mm`?",
        f"{FILE}:5: `length_mm` is 12, but the most is 9; write it like this: length_mm = 3",
    ]
    assert value is not None


def test_the_table_that_is_read_stays_as_it_is() -> None:
    data = tomllib.loads(RIGHT.replace("length_mm", "length"))
    before = repr(data)
    read_table(Bank, data, FILE, Findings())
    assert repr(data) == before


def test_where_nothing_can_stand_in_there_is_no_value() -> None:
    value, told = read(Bank, "steep = 1\n")
    assert value is None
    assert [problem.message for problem in told] == [
        "this file has no `name`",
        "`steep` must be true or false, not 1",
    ]


def test_a_hundred_mistakes_are_told_and_the_others_counted() -> None:
    _, told = read(Bank, RIGHT + "[[reeds]]\nlength_mm = 0\n" * 120)
    assert len(told) == 101
    assert told[-1].message == "20 more values of this file are wrong"


@frozen(kw_only=True)
class Stone:
    kind: Literal["stone"]
    weight_g: int


@frozen(kw_only=True)
class Rush:
    kind: Literal["rush"] = "rush"
    height_mm: int


KINDS = by_kind({"rush": table_schema(Rush), "stone": table_schema(Stone)}, "rush")


@frozen(kw_only=True)
class Shelf:
    finds: list[Rush | Stone] = key(rows_of(KINDS), "What is there.", "[[finds]]")


@pytest.mark.parametrize(
    ("find", "told"),
    [
        ("height_mm = 2", []),
        ('kind = "stone"\nweight_g = 2', []),
        ('kind = "stnoe"\nweight_g = 2', ['2: `kind` can\'t be "stnoe"; did you mean "stone"?']),
        (
            'kidn = "stone"\nweight_g = 2',
            ["2: nothing here is called `kidn`; did you mean"],
        ),
        (
            'kind = "twig"\nweight_g = 2',
            ['2: `kind` can\'t be "twig"; it can be "rush"'],
        ),
        ("weight_g = 2", ["1: find 1 has no `kind`; add it"]),
    ],
)
def test_what_kind_a_table_is_of_is_guessed_by_its_keys(find: str, told: list[str]) -> None:
    _, problems = read(Shelf, f"[[finds]]\n{find}\n")
    assert len(problems) == len(told)
    for problem, begins in zip(problems, told, strict=True):
        assert str(problem).startswith(f"{FILE}:{begins}")


def test_what_no_person_writes_is_read_strictly() -> None:
    assert build(Bank, {"name": "weir"}) == Bank(name="weir")
    for wrong in ({}, {"name": 1}, {"name": "weir", "other": 2}, {"name": "weir", "sides": [1]}):
        with pytest.raises(ValueError, match=r"^Bank.* is not as it was written$"):
            build(Bank, wrong)


def test_files_are_read_without_the_library_until_one_is() -> None:
    """What describes tables is loaded by every command; pydantic_core takes 30 ms to load."""
    for module in ("schema", "shape", "words", "findings"):
        text = (Path(ROOT) / f"publisher/tables/{module}.py").read_text("utf-8")
        assert not re.search(r"^(from|import) pydantic", text, re.MULTILINE)
