"""Knots that steps can tie are measured in their drawing, and refused if it is not drawn so."""

from __future__ import annotations

from collections.abc import Sequence

import pytest
from pytest import approx

from publisher.errors import SourceError
from publisher.knots import load_knots
from publisher.knots.measures import Scaled
from publisher.knots.tied import measure
from publisher.knots.turn import mirror_knot
from tests.support.own_knots import HALF, SQUARE, copied

WITHIN = 0.05


def measured(text: str) -> Scaled:
    return measure(load_knots({"weir-knot.toml": text})["weir-knot"])


def told(text: str) -> list[str]:
    with pytest.raises(SourceError) as caught:
        load_knots({"weir-knot.toml": text})
    return [str(problem) for problem in caught.value.problems]


def test_a_square_knot_measures_what_the_closed_forms_say() -> None:
    """They come from other models of the same knot."""
    found = measured(SQUARE)
    a, one, two, b = found.cords
    size = load_knots()["square-knot"].taken([1.0] * 4)
    assert (a + b) / 2 == approx(size.cords_mm[0], rel=WITHIN)
    assert one == two == approx(size.height_mm, rel=WITHIN)
    assert (found.width, found.height, found.depth) == approx(
        (size.width_mm, size.height_mm, size.depth_mm), rel=WITHIN
    )


def test_an_overhand_knot_takes_what_is_published_besides_its_height() -> None:
    """Source: the tight open knot (Pieranski, Przybyl and Stasiak 2001; from memory)."""
    found = measured(copied("overhand", ("W",)))
    assert found.cords[0] - found.height == approx(10.1, rel=WITHIN)


def test_in_the_mirror_the_cords_change_sides_and_take_the_same() -> None:
    knot = load_knots({"weir-knot.toml": HALF})["weir-knot"]
    found, other = measure(knot), measure(mirror_knot(knot))
    assert found.cords[0] != approx(found.cords[-1], abs=0.5)
    assert other.cords == approx(found.cords[::-1])
    assert (other.width, other.height, other.depth) == approx(
        (found.width, found.height, found.depth), rel=1e-4
    )


@pytest.mark.parametrize(
    ("of", "cords_in", "cords_out", "message"),
    [
        (
            "half-knot",
            ("A", "F1", "F2", "B"),
            (),
            '4: these cords go out in another order; write cords_out = ["B"',
        ),
        (
            "square-knot",
            ("B", "F1", "F2", "A"),
            (),
            '4: these cords come in in another order; write cords_in = ["A"',
        ),
        ("square-knot", ("A", "F1", "B"), (), "4: F2 is not among these; name every cord"),
        (
            "square-knot",
            ("A", "F1", "F2", "C"),
            (),
            '4: there is no strand "C"; use those of A, F1',
        ),
        ("square-knot", ("A", "F1", "F1", "B"), (), "4: a strand is named twice"),
        ("square-knot", ("A", "F1", "F2", "B"), ("A", "B"), "5: these are not the cords that"),
        ("larks-head", ("W",), (), "4: D is not among these; name every cord; a knot on a dowel"),
        ("pair-tied-double-knot", ("A", "B"), (), "4: A does not come in above the knot and go"),
    ],
)
def test_what_is_drawn_otherwise_is_told(
    of: str, cords_in: Sequence[str], cords_out: Sequence[str], message: str
) -> None:
    (problem,) = told(copied(of, cords_in, cords_out))
    assert problem.startswith(f"weir-knot.toml:{message}")


def test_cords_that_do_not_cross_are_no_knot() -> None:
    text = """
format = 1
titles = ["two cords"]
intro = "They hang."
cords_in = ["A", "B"]
[strands.A]
role = "working"
points = "0 0 0; 0 5 0"
[strands.B]
role = "second"
points = "2 0 0; 2 5 0"
[[stages]]
words = "Let them hang."
show.A = {}
"""
    (problem,) = told(text)
    assert "these cords do not cross: nothing is tied" in problem


STEPS = copied("square-knot", ("A", "F1", "F2", "B")) + "[steps]\n"
SCALED = '[measures]\nkind = "scaled"\ncords = [5]\nwidth = 1\nheight = 1\ndepth = 1\n'
LONE = 'format = 1\nof = "square-knot"\n'


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (STEPS + "cord = [4, 4]\n", "6: nothing here is called `cord`; did you mean `cords`?"),
        (STEPS + "cords = [4]\n", "6: `cords` has too few values: 1, but 2 is the least; write it"),
        (STEPS + "cords = [6, 4]\n", "6: this does not say on how many cords it is tied"),
        (STEPS + "cords = [4, 6]\n", "5: 4 cords are drawn; write cords = [4, 4]"),
        (STEPS + 'form = "row"\n', '6: `form` can\'t be "row"; it can be "hanging" or "bundle"'),
        (STEPS + "slope_degrees = 90\n", "6: `slope_degrees` is 90, but the most is 89"),
        (STEPS + 'travels = "leader"\n', "5: nothing says what is taken round or by a leader; add"),
        (
            STEPS + '[measures]\nkind = "knit"\n',
            '7: `kind` can\'t be "knit"; it can be "scaled" or',
        ),
        (STEPS + '[measures]\nkind = "coil"\n', "6: `measures` has no `fold`; add it"),
        (STEPS + '[measures]\nkind = "coil"\nfold = 2\n', "6: this formula is not for cords side"),
        (STEPS + SCALED.replace("[5]", '["5"]'), "8: `cords` has quotes round its number"),
        (STEPS + "[measures]\nkind = [2]\n", "7: `kind` can't be a list; it can be"),
        (STEPS.replace("[steps]", "steps = 3"), "5: `steps` must be a table, not 3"),
        (LONE + "[steps]\ncords = [4, 4]\n", "3: nothing says what it takes of its cords; add a"),
        (LONE + "[steps]\n" + SCALED, "3: this does not say on how many cords it is tied"),
    ],
)
def test_steps_and_measures_that_do_not_fit_are_told(text: str, message: str) -> None:
    problem, *_ = told(text)
    assert problem.startswith(f"weir-knot.toml:{message}")
