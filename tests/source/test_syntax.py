"""TOML that can't be read: the line, in plain words, and how it is written right."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from publisher.errors import SourceError
from publisher.tables.syntax import parse

WRONG = {
    "title = Reed Warbler": (1, 'write title = "Reed Warbler"'),
    "title = “Reed Warbler”": (1, 'use straight quotes: title = "Reed Warbler"'),
    'title = "Reed Warbler\nversion = "1.0"': (1, 'end it with "'),
    'title: "Reed"': (1, 'write = instead: title = "Reed"'),
    "title =\nformat = 1": (1, "write its value, or drop the line"),
    "format = 1\nformat = 1": (2, "keep one of the two lines"),
    "price = 7,20": (1, "use a point: price = 7.20"),
    "make = 02": (1, "write make = 2"),
    "tail_mm = 100 mm": (1, "write tail_mm = 100"),
    "allowance_percent = 10%": (1, "write allowance_percent = 10"),
    "date = 1.9.2026": (1, "write year-month-day, such as date = 2026-09-01"),
    "date = 2026-13-01": (1, "write year-month-day, such as date = 2026-09-01"),
    "make = 2;": (1, "write make = 2"),
    "carry = { columns = 4,\n rows = 1 }": (
        1,
        "keep all of it on one line, like { columns = 6, rows = 2 }",
    ),
    'about = "say "hello" to"': (1, "inside a text, use curly quotes “ ” or an apostrophe ’"),
    "// a remark": (1, "begin a comment with #"),
    "tail mm = 3": (1, "write it with letters and _ only, such as tail_mm"),
    "a = True": (1, "write a = true"),
    "gauge = –5": (1, "use the minus: gauge = -5"),
    "[colours.N\nname = 'x'": (1, "write [colours.N]"),
    "[[pieces]\nid = 'x'": (1, "write [[pieces]]"),
    "[colours.#]": (1, "put it in quotes: [colours.'#']"),
    "[colours.é]": (1, "put it in quotes: [colours.'é']"),
    "[colours N]": (1, "write it with points: [colours.N]"),
    "[]": (1, "write a name between the brackets, such as [colours.N]"),
    "[colours.N]\n[colours.W]\n[colours.N]": (
        3,
        "put the two together, or give this one another name",
    ),
    "[pieces]\na = 1\n[[pieces]]": (
        3,
        "use the same brackets each time: [[pieces]] for pieces, [colours.N] for colours",
    ),
    '[[pieces]] id = "x"': (1, 'begin a new line with id = "x"'),
    'chart = """\nN\\N\n"""': (
        2,
        "use three single quotes ''' round a chart that has it, and / in a file's name",
    ),
    "a = 1\u00a0": (1, "delete the line and type it again"),
    "\0\0": (1, "delete the line and type it again"),
    "title": (1, 'is a """ missing above it, an = in it, or a # in front of it?'),
}
NEVER_ENDS = "put the three quotes again on a line of their own below its last line"


def stopped(text: str) -> tuple[int | None, str, str]:
    with pytest.raises(tomllib.TOMLDecodeError):
        tomllib.loads(text)
    with pytest.raises(SourceError) as caught:
        parse(text, "reed.toml")
    (problem,) = caught.value.problems
    return problem.place.line, problem.message, problem.hint


@pytest.mark.parametrize("text", WRONG)
def test_line_and_remedy(text: str) -> None:
    line, _, hint = stopped(text)
    assert (line, hint) == WRONG[text]


@pytest.mark.parametrize("text", WRONG)
def test_line_is_the_same_further_down(text: str) -> None:
    line, message, hint = stopped(text)
    assert stopped(f"# one\n\n{text}\n") == ((line or 0) + 2, *_later(message, hint))


def _later(message: str, hint: str) -> tuple[str, str]:
    for number in (1, 2):
        if message.endswith(f"line {number}"):
            return f"{message[:-1]}{number + 2}", hint
    return message, hint


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ('a = 1\nchart = """\nNN\nNN\n', 2),
        ('a = 1\nchart = """\nNN\nNN\nknot = "x"\n[[pieces]]\nchart = """\nNN\n"""\n', 2),
        ('about = """\nWords.\n"""\n[[pieces]]\nchart = """\nNN\nid = "x"\n', 5),
        ("chart = '''\nNN\n\"\"\"\n", 1),
    ],
)
def test_text_that_never_ends(text: str, line: int) -> None:
    found, message, hint = stopped(text)
    assert (found, hint) == (line, NEVER_ENDS)
    assert message == "the text that begins here with three quotes never ends"


def test_first_of_two_is_named() -> None:
    _, message, _ = stopped("[colours.N]\nname = 'x'\n\n[colours.N]\nname = 'y'\n")
    assert message == "[colours.N] is here for the second time; the first is on line 1"
    _, message, _ = stopped("[a]\nname = 1\n[b]\nname = 1\nx = 1\nname = 2\n")
    assert message == "`name` is here for the second time; the first is on line 4"


@pytest.mark.parametrize(
    "text", ["a = " + "[" * 5000, "a = " + "9" * 5000, "a = 0x" + "f" * 5000 + "\nb"]
)
def test_monstrous_values_are_problems_too(text: str) -> None:
    with pytest.raises(SourceError):
        parse(text, "reed.toml")


def test_huge_hexadecimal_is_a_problem_not_a_crash(tmp_path: Path) -> None:
    from publisher.source import read_pattern

    path = tmp_path / "huge.toml"
    path.write_text("format = 0x" + "f" * 5000 + "\ntitle = 0x" + "f" * 5000)
    with pytest.raises(SourceError, match="a huge number"):
        read_pattern(path)
