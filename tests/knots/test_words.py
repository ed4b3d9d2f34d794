"""The words of our knots stand in a list, apart from their drawings; a writer may change any."""

from __future__ import annotations

import pytest

from publisher.catalogue.check_catalogue import check_templates
from publisher.errors import TemplateError
from publisher.knots import Knot, load_knots
from publisher.knots.load import package_knot
from publisher.knots.turn import turn_over
from publisher.templates import KNOT_WORDS
from tests.support.shop import ROOT, with_files

LIBRARY = ROOT / "publisher" / "knots" / "library"


def worded(text: str, knot: str) -> Knot:
    """A knot with a writer's own word list."""
    return load_knots(words=with_files({KNOT_WORDS: text}).file(KNOT_WORDS))[knot]


def test_every_knot_has_all_its_words() -> None:
    for knot in load_knots().values():
        assert knot.titles != (knot.name,)
        assert knot.intro
        assert all(stage.words for stage in knot.stages), knot.name
        assert not (knot.tying or knot.mounts) or knot.check


def test_no_words_stand_among_the_drawings() -> None:
    for path in LIBRARY.glob("*.toml"):
        text = path.read_text("utf-8")
        for key in ("titles", "intro", "check", "words"):
            assert f"\n{key} = " not in text, path.name
    bare = package_knot("square-knot")
    assert (bare.titles, bare.intro) == (("square-knot",), "")
    assert bare.loose == load_knots()["square-knot"].loose


def test_a_writers_word_list_may_hold_a_single_word() -> None:
    text = '[square-knot]\ntitles = ["flat knot"]\n'
    ours, hers = load_knots()["square-knot"], worded(text, "square-knot")
    assert (hers.title, hers.abbreviation, hers.stages) == ("flat knot", "SK", ours.stages)
    assert worded(text, "overhand") == load_knots()["overhand"]


def test_a_knot_that_is_another_one_turned_has_its_words_but_for_its_own() -> None:
    """The diagonal hitch has the stages of the horizontal one, and an intro of its own."""
    text = '[horizontal-double-half-hitch]\nintro = "I."\nstages = ["a", "b", "c", "d"]\n'
    count = len(load_knots()["horizontal-double-half-hitch"].stages)
    text = text.replace('["a", "b", "c", "d"]', str([*"abcdefgh"[:count]]))
    found = worded(text, "diagonal-double-half-hitch")
    assert [stage.words for stage in found.stages] == [*"abcdefgh"[:count]]
    assert found.intro == load_knots()["diagonal-double-half-hitch"].intro


def test_words_change_sides_in_another_language_too() -> None:
    """Turned over, `vor` and `hinter` change places where the list says so."""
    stages = ["Hinter dem Stab.", "Vor dem Stab.", "Fertig."]
    text = f'faces = ["vor", "hinter"]\n[larks-head]\nstages = {stages}\n'
    turned = turn_over(worded(text, "larks-head"))
    assert [stage.words for stage in turned.stages] == [
        "Vor dem Stab.",
        "Hinter dem Stab.",
        "Fertig.",
    ]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (
            "[square-knto]\n",
            ":1: nothing here is called `square-knto`; did you mean `square-knot`?",
        ),
        (
            "[square-knot]\ntitle = 1\n",
            ":2: nothing here is called `title`; did you mean `titles`?",
        ),
        ('[square-knot]\ntitles = "flat"\n', ":2: `titles` must be a list in [brackets]; write"),
        ('[square-knot]\nstages = ["Tie it."]\n', ":2: there is not one text a stage; write 5"),
        ("square-knot = 3\n", ":1: `square-knot` must be a table; begin it with"),
        ('sides = "left"\n', ":1: `sides` must be a list in [brackets]"),
        ("[square-knot\n", ":1: "),
    ],
)
def test_what_is_wrong_in_a_word_list_is_told_at_its_line(text: str, message: str) -> None:
    with pytest.raises(TemplateError) as caught:
        worded(text, "square-knot")
    (problem,) = caught.value.problems
    assert str(problem).startswith(f"templates/{KNOT_WORDS}{message}")
    templates = with_files({KNOT_WORDS: text})
    assert str(problem) in map(str, check_templates(templates)), "publisher check tells it"
