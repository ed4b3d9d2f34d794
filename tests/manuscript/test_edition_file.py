"""What is wrong in an edition's file or in the look is told with its line in the writer's file."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import publisher.manuscript
from publisher.errors import TemplateError
from publisher.manuscript.edition import edition_form, house_look, read_edition
from publisher.manuscript.options import OPTIONS
from tests.support.shop import installed, with_files

FILE = "editions/short.toml"
LOOK = "look.toml"
GOOD = 'title = "Short"\nsections = ["cover", "chart"]\n'


def told(texts: dict[str, str], edition: str = "short") -> list[str]:
    with pytest.raises(TemplateError) as caught:
        read_edition(with_files(texts), edition, "a4")
    return [str(problem) for problem in caught.value.problems]


@pytest.mark.parametrize(
    ("text", "line", "message"),
    [
        (
            'title = [[1]]\nsections = ["cover"]',
            1,
            "`title` must be a text in quotes, not a list; write it like this: title",
        ),
        ('title = " "\nsections = ["cover"]', 1, "`title` is empty; write it like this: title"),
        (
            'sections = ["cover"]',
            1,
            'this file has no `title`; add a line such as title = "Booklet"',
        ),
        ('title = "Short"', 1, "this file has no `sections`; add a line such as sections = ["),
        (
            'title = "Short"\nsections = "cover"',
            2,
            "`sections` must be a list in [brackets]; write",
        ),
        (
            'title = "Short"\n\nsections = ["abuot"]',
            3,
            '`sections` can\'t be "abuot"; did you mean "about"?',
        ),
        (
            f"{GOOD}one_colunm = true",
            3,
            "nothing here is called `one_colunm`; did you mean `one_column`?",
        ),
        (f"{GOOD}one_column = 3", 3, "`one_column` must be true or false, not 3; write"),
        (
            f"{GOOD}students = true",
            3,
            "`students` must be a whole number, not true; write it like this: students = 12",
        ),
        (
            f'{GOOD}students = "12"',
            3,
            "`students` has quotes round its number; write students = 12",
        ),
        (
            f"{GOOD}knot_figure_mm = 3.5",
            3,
            "`knot_figure_mm` is 3.5, but the least is 10; write it like",
        ),
        (f'{GOOD}hand = "lft"', 3, '`hand` can\'t be "lft"; did you mean "left"?'),
        (f'{GOOD}release = "no"', 3, '`release` must be true or false, not "no"; write it'),
        (f"{GOOD}look = 5", 3, "`look` must be a table, not 5; begin it with [look]"),
        (f"{GOOD}[frame]\nfoot_mm = 9", 3, "`frame` belongs to the look; write [look.frame]"),
        (
            f'{GOOD}[look.frame]\nfoot_mm = "x"',
            4,
            '`foot_mm` must be a number, not "x"; write it like this: foot_mm = 13.0',
        ),
        (
            f"{GOOD}[look.frame]\n\nfoott_mm = 3",
            5,
            "nothing here is called `foott_mm`; did you mean `foot_mm`?",
        ),
        (
            f"{GOOD}[look.type]\nown = {{ face = 'sans' }}",
            4,
            "type own has no `size_pt`; add a line such as size_pt = ",
        ),
        (
            f"{GOOD}[look.papers.a4.margins]\nleft_mm = 160",
            3,
            "`papers.a4.margins` leave less than 40 mm",
        ),
        (f"{GOOD}[look.frame]\ntitle_mm = 250", 3, "`papers.a4.margins` leave less than 40 mm"),
    ],
)
def test_a_mistake_in_an_edition_is_told_with_its_line(text: str, line: int, message: str) -> None:
    assert told({FILE: text})[0].startswith(f"templates/{FILE}:{line}: {message}")


def test_every_mistake_of_an_edition_is_told_at_once() -> None:
    text = 'title = 1\nsections = ["cover"]\nstudnts = 2\n[look]\nmono = "yes"\n'
    lines = [problem.split(":")[1] for problem in told({FILE: text})]
    assert lines == ["1", "3", "5"]


def test_what_an_edition_is_made_as_is_not_guessed() -> None:
    with pytest.raises(TemplateError, match=r"short\.toml:3: `form` can't be .page.; did you mean"):
        edition_form(with_files({FILE: f'{GOOD}form = "page"\n'}), "short")


def test_a_mistake_in_the_look_is_the_same_for_all_who_read_it() -> None:
    """The companions read the look alone, and each edition with its own changes."""
    text = installed().text(LOOK).replace("header_mm = 16.0", 'header_mm = "16"')
    line = text[: text.index('header_mm = "16"')].count("\n") + 1
    what = "`header_mm` has quotes round its number; write header_mm = 16"
    said = [f"templates/{LOOK}:{line}: {what}"]
    assert told({LOOK: text}, "booklet") == said
    assert told({LOOK: text}, "handout") == said
    with pytest.raises(TemplateError) as caught:
        house_look(with_files({LOOK: text}), "letter")
    assert [str(problem) for problem in caught.value.problems] == said


def test_a_colour_that_was_taken_out_is_told_in_the_look() -> None:
    text = installed().text(LOOK).replace('hair = "#cfd4d3"\n', "")
    line = text[: text.index("[colours]")].count("\n") + 1
    what = '`colours` has no `hair`; add a line such as hair = "#cfd4d3"'
    said = f"templates/{LOOK}:{line}: {what}"
    assert told({LOOK: text}, "booklet") == [said]


def test_every_option_that_is_asked_for_is_known() -> None:
    room = Path(publisher.manuscript.__file__).parent
    asked = {
        key
        for file in room.rglob("*.py")
        for key in re.findall(r'\.option\(\s*"(\w+)"', file.read_text("utf-8"))
    }
    assert asked == set(OPTIONS)
