"""Steps tie knots of the writer's own by the names of their files."""

from __future__ import annotations

from pathlib import Path

import pytest

from publisher.errors import SourceError
from publisher.model.parts import Tie
from publisher.source import read_pattern
from publisher.source.follow import order_after
from publisher.source.mirror import for_left_hand
from publisher.source.own_knots import OwnKnots
from tests.support.own_knots import HALF, SQUARE, write_pattern

TIED = '{ tie = "weir-knot", on = [1, 2, 3, 4] },'


def told(path: Path) -> list[str]:
    with pytest.raises(SourceError) as caught:
        read_pattern(path)
    return [str(problem).removeprefix(f"{path}:") for problem in caught.value.problems]


def test_a_pattern_holds_the_knots_that_its_steps_tie_and_no_others(tmp_path: Path) -> None:
    path = write_pattern(tmp_path, TIED, weir_knot=SQUARE, other=HALF)
    pattern = read_pattern(path)
    assert [(knot.name, knot.text) for knot in pattern.own_knots] == [("weir-knot", SQUARE)]
    assert str(tmp_path / "knots" / "weir-knot.toml") in pattern.files
    assert str(tmp_path / "knots" / "other.toml") not in pattern.files


def test_cords_that_change_places_are_followed(tmp_path: Path) -> None:
    """Cord 1 is on the right after one knot, trimmed there, and back at the left for none."""
    steps = TIED + "\n    { trim_mm = 5, on = [4] },\n    " + TIED
    assert read_pattern(write_pattern(tmp_path, TIED, weir_knot=HALF)).parts[0].steps == (
        Tie(knot="weir-knot", on=(1, 2, 3, 4)),
    )
    assert told(write_pattern(tmp_path, steps, weir_knot=HALF)) == [
        "23: cord 4 was trimmed before; trim it in a later step, when nothing more is done with it"
    ]


def test_facing_right_and_the_left_hand_mirror_the_order(tmp_path: Path) -> None:
    three = 'format = 1\nof = "square-knot"\ncords_in = ["A", "B", "C"]\ncords_out = ["C","A","B"]'
    steps = '{ tie = "weir-knot", on = [1, 2, 3], facing = "right" },'
    pattern = read_pattern(write_pattern(tmp_path, steps, weir_knot=three))
    own = OwnKnots(tmp_path / "knots").tying
    (step,) = pattern.parts[0].steps
    assert order_after(step, "1234", own) == list("2314")
    (other,) = for_left_hand(pattern).parts[0].steps
    assert other == Tie(knot="weir-knot", on=(2, 3, 4), facing="left")
    assert order_after(other, "1234", own) == list("1423")


@pytest.mark.parametrize(
    ("step", "knot", "message"),
    [
        ('{ tie = "weir-knto", on = [1, 2] },', SQUARE, 'did you mean "weir-knot"?'),
        ('{ tie = "weir knot", on = [1, 2] },', SQUARE, '`tie` can\'t be "weir knot"'),
        ('{ tie = "larks-head", on = [1, 2] },', SQUARE, '`tie` can\'t be "larks-head"'),
        ('{ tie = "weir-knot", on = [1, 2] },', SQUARE, '"weir-knot" needs four cords'),
        ('{ tie = "weir-knot", on = [1, 2, 3, 4], fillers = 2 },', SQUARE, "has no fillers"),
        (TIED, 'titles = ["weir knot"]', "weir-knot does not say how its cords come in; add a"),
        (TIED, 'cords_in = ["A", "A"]', "weir-knot has no cords to tie; `publisher knots` tells"),
        (TIED, "cords_in = [", "the file of weir-knot can't be read; `publisher knots` tells"),
    ],
)
def test_what_cannot_be_tied_is_told(tmp_path: Path, step: str, knot: str, message: str) -> None:
    (problem,) = told(write_pattern(tmp_path, step, weir_knot=knot))
    assert problem.startswith("21:")
    assert message in problem
