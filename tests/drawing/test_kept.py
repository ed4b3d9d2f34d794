"""Figures of parts: each drawn once, known by value, and by nothing that it does not show."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from typing import Any

import pytest

from publisher.drawing import draw_hanging, draw_part, draw_part_steps, kept, place_parts
from publisher.drawing.kept import bring_figures, drawn_once, name_of, take_figures
from publisher.drawing.part.paint import SvgPen
from publisher.drawing.part.picture import knots_of, paint_told, part_told
from publisher.knots import Knot, load_knots
from publisher.knots.turn import mirror_knot
from publisher.model.colour import Colour
from publisher.model.figure import Figure
from publisher.model.look import Look
from publisher.model.part_plan import StepsPlan
from publisher.plan import make_plan
from tests.support.charts import look
from tests.support.parts import LEAF_CORDS, part, pattern_of
from tests.support.shop import demo_plan

KNOTS = load_knots()
LINES = ((4, 39.0), (3, 54.0), (2, 84.0), (1, 174.0))
PATTERN = pattern_of(part())
COLOURS = PATTERN.colours


@pytest.fixture(autouse=True)
def forgotten() -> Iterator[None]:
    """A process that knows no figures."""
    forget()
    yield
    forget()


def forget() -> None:
    kept._kept.clear()
    kept._weight = 0
    bring_figures({})


def take_pen_away(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*given: Any) -> None:
        raise AssertionError("drawn again")

    monkeypatch.setattr(SvgPen, "end_layer", refuse)


def leaf() -> StepsPlan:
    """The same part each time, but another object."""
    return make_plan(pattern_of(part())).parts[0]


def figures(
    plan: StepsPlan, knots: Mapping[str, Knot] = KNOTS, chosen: Look | None = None
) -> list[Figure]:
    """Its steps, and the finished part."""
    chosen = chosen or look()
    steps = draw_part_steps(plan, COLOURS, knots.__getitem__, chosen, LINES, 80.0, 54.0)
    whole = draw_part(plan, COLOURS, knots.__getitem__, chosen, 50, 50)
    return [*(step.figure for step in steps), whole]


def hanging(width_mm: float = 120.0, **changed: Any) -> Figure:
    """A piece with parts on it, the first of them placed otherwise."""
    plan = demo_plan("kingfisher-over-reeds")
    chart = plan.charts[0]
    first, *others = place_parts(plan, chart.id, KNOTS.__getitem__)
    assert len({one.picture.told for one in (first, *others)}) == 2 < len(others)
    first = replace(first, place=replace(first.place, **changed))
    return draw_hanging(chart, plan.colours, look(), width_mm, 180.0, (first, *others))


def test_a_part_is_drawn_once_however_often_it_is_planned(monkeypatch: pytest.MonkeyPatch) -> None:
    one, other = leaf(), leaf()
    assert one is not other
    before = figures(one)
    take_pen_away(monkeypatch)
    assert figures(other) == before
    assert figures(other, dict(load_knots())) == before


def test_parts_on_a_piece_are_drawn_once(monkeypatch: pytest.MonkeyPatch) -> None:
    before = hanging()
    take_pen_away(monkeypatch)
    assert hanging() == before


@pytest.mark.parametrize(
    "changed", [{"row": 9}, {"cord": 9}, {"turn_degrees": 33.0}, {"hold": "top"}, {"hold": "tails"}]
)
def test_a_part_in_another_place_is_drawn_there(changed: dict[str, Any]) -> None:
    hanging()
    after = hanging(**changed)
    forget()
    assert hanging(**changed) == after


def test_parts_of_another_size_are_drawn_anew() -> None:
    before = hanging()
    smaller = hanging(60.0)
    assert smaller != before
    forget()
    assert hanging(60.0) == smaller


def test_what_was_taken_and_brought_is_the_same_and_not_drawn_again(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    before, piece = figures(leaf()), hanging()
    taken = take_figures()
    assert taken
    forget()
    bring_figures(taken)
    take_pen_away(monkeypatch)
    assert (figures(leaf()), hanging()) == (before, piece)
    assert take_figures() == taken


def test_what_is_taken_is_what_was_asked_for_since_then() -> None:
    figures(leaf())
    first = take_figures()
    assert take_figures() == {}
    hanging()
    second = take_figures()
    assert second and first.keys().isdisjoint(second)
    figures(leaf())
    assert take_figures() == first


def test_other_steps_and_knots_are_drawn_anew() -> None:
    before = figures(leaf())
    fewer = make_plan(pattern_of(part(LEAF_CORDS, part().steps[:2]))).parts[0]
    assert figures(fewer)[-1] != before[-1]
    mirrored = {name: mirror_knot(knot) for name, knot in KNOTS.items()}
    after = figures(leaf(), mirrored)
    assert after != before
    forget()
    assert figures(leaf(), mirrored) == after


@pytest.mark.parametrize("name", ["figure", "ink", "paper", "soft"])
def test_every_colour_of_the_look_that_is_seen_is_told(name: str) -> None:
    before = figures(leaf())
    changed = replace(look(), colours={**look().colours, name: Colour.from_hex("#123456")})
    after = figures(leaf(), chosen=changed)
    assert after != before
    forget()
    assert figures(leaf(), chosen=changed) == after


def test_another_type_and_a_look_without_colour_are_drawn_anew() -> None:
    label = replace(look().type["figure-label"], size_pt=15.0)
    larger = replace(look(), type={**look().type, "figure-label": label})
    mono = replace(look(), mono=True)
    seen = [figures(leaf(), chosen=one) for one in (look(), larger, mono)]
    assert seen[0] != seen[1] != seen[2] != seen[0]


def test_a_yarn_of_another_colour_is_drawn_anew() -> None:
    plan = leaf()
    paints = [replace(one, srgb=Colour.from_hex("#123456")) for one in COLOURS]
    before = draw_part(plan, COLOURS, KNOTS.__getitem__, look(), 50, 50)
    after = draw_part(plan, paints, KNOTS.__getitem__, look(), 50, 50)
    assert "#123456" in after.svg and "#123456" not in before.svg


def test_nothing_is_asked_for_that_is_not_told() -> None:
    """Whatever else a look, a library or a pattern has: figures are drawn without it."""
    plan, full = leaf(), look()
    bare = replace(full, lines={}, type={"figure-label": full.type["figure-label"]}, key="")
    for name in ("paper", "frame", "chart"):
        bare = replace(bare, **{name: None})
    letters = {cord.colour for cord in plan.cords}
    own = [one for one in COLOURS if one.letter in letters]
    knots = {knot.name: knot for knot in knots_of(plan, KNOTS.__getitem__)}
    assert len(knots) < len(KNOTS) and paint_told(plan, own, bare) == paint_told(
        plan, COLOURS, full
    )
    steps = draw_part_steps(plan, own, knots.__getitem__, bare, LINES, 80.0, 54.0)
    whole = draw_part(plan, own, knots.__getitem__, bare, 50, 50)
    forget()
    assert [*(step.figure for step in steps), whole] == figures(plan)


def test_names_are_told_by_value() -> None:
    one, other = (part_told(leaf(), knots_of(leaf(), KNOTS.__getitem__)) for _ in range(2))
    assert name_of(one) == name_of(other)
    assert name_of(one) != name_of((replace(leaf(), width_mm=1.0), one[1]))


def test_no_more_is_remembered_than_there_is_room_for(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kept, "MOST_KEPT", 300)
    drawn: list[int] = []

    def figure(number: int) -> Figure:
        def draw() -> tuple[Figure]:
            drawn.append(number)
            return (Figure("x" * 100, 1, 1),)

        return drawn_once(number, draw)[0]

    for number in (1, 2, 3, 1, 4):
        figure(number)
    assert drawn == [1, 2, 3, 4]
    figure(1)
    assert drawn == [1, 2, 3, 4], "what was asked for last stays"
    figure(2)
    assert drawn == [1, 2, 3, 4, 2]
    monkeypatch.setattr(kept, "MOST_KEPT", 50)
    assert figure(9).svg == "x" * 100 and not kept._kept
