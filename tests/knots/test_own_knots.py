"""A writer's own knot file is read, told all its mistakes with their lines, and drawn."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from publisher.drawing import draw_knot_stages
from publisher.errors import SourceError
from publisher.knots import load_knots
from publisher.manuscript.edition import house_look
from tests.support.shop import installed

GOOD = """\
format = 1
titles = ["river hitch"]
abbreviation = "RH"
way = "worked to the right"
intro = "One turn of *W* to the right of the cord."

[strands.W]
role = "working"
label = "W"
label_at = [-4, 1]
points = \"\"\"
-5 0 0 @0
 0 0 -1
 2 -1 0 @270 turn
 0 -2 1
-5 -2 0 @180
\"\"\"

[strands.F1]
role = "filler"
points = "0 -6 0; 0 6 0"

[[stages]]
words = "Take W *behind* the cord, out to the right."
show.W = { to = "turn" }

[[stages]]
words = "Bring it back *across the front* to the left."
show.W = { }
"""


def problems(text: str, name: str = "knots/river-hitch.toml") -> list[str]:
    with pytest.raises(SourceError) as caught:
        load_knots({name: text})
    return [str(problem) for problem in caught.value.problems]


def test_an_own_knot_stands_in_the_library_and_is_drawn() -> None:
    library = load_knots({"knots/river-hitch.toml": GOOD})
    assert "river-hitch" in library and "overhand" in library
    knot = library["river-hitch"]
    assert (knot.title, knot.abbreviation) == ("river hitch", "RH")
    figures = draw_knot_stages(knot, house_look(installed(), "a4"), 39.0, 50.7)
    assert [figure.alt for figure in figures] == [
        "Take W behind the cord, out to the right.",
        "Bring it back across the front to the left.",
    ]


def test_an_own_knot_takes_the_place_of_the_librarys() -> None:
    library = load_knots({"overhand.toml": GOOD})
    assert library["overhand"].title == "river hitch"
    assert load_knots()["overhand"].title == "overhand knot"
    assert len(library) == len(load_knots())


def test_an_own_knot_may_be_another_one_turned() -> None:
    text = 'format = 1\nof = "larks-head"\nturn = "over"\ntitles = ["cow hitch"]\n'
    knot = load_knots({"cow-hitch.toml": text})["cow-hitch"]
    heights = [p.z for p in knot.loose.strands["W"].points]
    assert heights == [-p.z for p in load_knots()["larks-head"].loose.strands["W"].points]


def test_an_own_knot_may_be_built_of_others() -> None:
    text = GOOD.replace(" 0 0 -1\n", "= square-knot A 0 3\n")
    body = load_knots({"a.toml": text})["a"].loose.strands["W"].points
    assert len(body) > 20


def test_every_mistake_is_told_with_its_line_and_what_to_do() -> None:
    text = (
        GOOD.replace('role = "working"', 'role = "worker"')
        .replace("abbreviation", "abreviation")
        .replace(" 2 -1 0 @270 turn", " 2 -1")
        .replace('role = "filler"', 'rolle = "filler"')
    )
    assert problems(text) == [
        "knots/river-hitch.toml:3: nothing here is called `abreviation`; "
        "did you mean `abbreviation`?",
        'knots/river-hitch.toml:8: `role` can\'t be "worker"; it can be "working" or "second" or '
        '"filler" or "leader" or "dowel" or "guide"',
        "knots/river-hitch.toml:14: '2 -1' is no point; write x y z, @heading and mark optional",
        "knots/river-hitch.toml:20: nothing here is called `rolle`; did you mean `role`?",
        'knots/river-hitch.toml:25: W has no point marked "turn"; marks of W: none yet',
    ]


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (("format = 1\n", "format = 2\n"), ":1: this file is of format 2, not 1; write format = 1"),
        (('points = "0 -6 0; 0 6 0"', 'points = "0 -6 0"'), ":21: points has too few points"),
        (("0 -6 0; 0 6 0", "0 -6 0; 0 -6 1; 0 6 0"), ":21: two points in a row lie at one place"),
        (("0 -6 0; 0 6 0", "0 -6 -1; 0 6 -1"), ":21: F1 and W touch at 0.0, 0.0"),
        (
            ('show.W = { to = "turn" }', "show.V = { }"),
            ":25: nothing here is called `V`; use one of W, F1",
        ),
        (
            ("label_at = [-4, 1]", "label_at = 4"),
            ":10: `label_at` must be a list in [brackets]; write it like",
        ),
        (
            ('words = "Take', 'word = "Take'),
            ":24: nothing here is called `word`; did you mean `words`?",
        ),
        (("titles = [", "titles = "), ":2:"),
        (
            ('titles = ["river hitch"]', 'titles = [""]'),
            ":2: `titles` is empty; write it like this: titles = [",
        ),
        (
            ("abbreviation", 'sides = ["left"]\nabbreviation'),
            ":3: `sides` has too few values: 1, but 2",
        ),
        (("abbreviation", 'kind = "bend"\nabbreviation'), ':3: `kind` can\'t be "bend"; it can'),
        (
            ("abbreviation", "uses = [1]\nabbreviation"),
            ":3: `uses` must be a text in quotes, not 1",
        ),
        (
            ("abbreviation", "view = [nan, 0, 9, 9]\nabbreviation"),
            ":3: `view` must be a number, not nan",
        ),
        (
            ("abbreviation", "view = [9, 0, 0, 9]\nabbreviation"),
            ":3: `view` must be a box; write it",
        ),
        (
            ('role = "filler"', 'role = "filler"\ndiameter = 0'),
            ":21: `diameter` is 0, but the least is 0.01",
        ),
        (
            ('role = "filler"', 'role = "leader"\ndiameter = inf'),
            ":21: `diameter` must be a number, not inf",
        ),
        (("-5 -2 0 @180", "-5 -2e9 0"), ":16: '-5 -2e9 0' is no point"),
        (("-5 -2 0 @180", "-5000 -2 0"), ":16: '-5000 -2 0' lies too far off"),
        (('to = "turn"', 'to = ["turn"]'), ":25: `to` must be a text in quotes, not a list"),
        ((GOOD, ""), "this file has no `titles`; add a line such as"),
    ],
)
def test_a_mistake_is_found_at_its_line(change: tuple[str, str], message: str) -> None:
    told = problems(GOOD.replace(*change))
    assert any(message in problem for problem in told), told


def test_a_knot_without_fillers_has_none_that_vary() -> None:
    text = GOOD.replace('role = "filler"', 'role = "guide"').replace(
        'way = "w', 'fillers_vary = true\nway = "w'
    )
    assert any(":4: there is no filler to vary" in problem for problem in problems(text))


def test_a_stage_in_which_nothing_is_shown_is_told() -> None:
    text = GOOD.replace("show.W = { }", "show.F1 = false")
    assert any(":27: nothing is shown in this stage" in problem for problem in problems(text))


def test_the_format_of_a_turned_knot_is_asked_for_too() -> None:
    assert any(
        "add a line such as format = 1" in problem for problem in problems('of = "overhand"\n')
    )


def test_all_files_are_told_in_one_go() -> None:
    with pytest.raises(SourceError) as caught:
        load_knots({"a.toml": "format = 1", "b.toml": "format = [", "c.toml": GOOD})
    files = {problem.place.file for problem in caught.value.problems}
    assert files == {"a.toml", "b.toml"}


@pytest.mark.parametrize(
    "text", ["strands = 3", "stages = [1]", "[strands]\nW = 1", "titles = [1]", "view = [1,2,3]"]
)
def test_odd_values_are_told_and_never_a_traceback(text: str) -> None:
    assert problems(text)


def test_the_files_in_the_description_of_the_format_can_be_read() -> None:
    path = Path(__file__).parents[2] / "publisher/knots/FORMAT.md"
    head, stages, derived = re.findall(r"```toml\n(.*?)```", path.read_text("utf-8"), re.S)
    tight = 'tight = """\n-4 0 0 @0; 0 0.2 -1; 1.4 0.5 0; 0 0.9 1; -4 1 0 @180\n"""'
    filler = '[strands.F1]\nrole = "filler"\npoints = "0 -6 0; 0 6 0"\ntight = "0 -6 0; 0 6 0"\n'
    text = head.replace('tight = """…"""', tight) + filler + stages
    library = load_knots({"river-hitch.toml": text, "cow-hitch.toml": derived})
    assert len(library["river-hitch"].stages) == 3
    assert library["cow-hitch"].title == "cow hitch"
