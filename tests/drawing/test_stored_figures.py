"""Figures in a store: each drawn once, known by value, and by nothing that it does not show."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import pytest

from publisher.drawing import (
    draw_back_maps,
    draw_chart_tile,
    draw_hanging,
    draw_part,
    draw_part_steps,
    place_parts,
    plan_tiles,
)
from publisher.drawing.base.canvas import FigureCanvas
from publisher.drawing.part.paint import SvgPen
from publisher.drawing.part.picture import knots_of, paint_told, part_told
from publisher.knots import Knot, load_knots
from publisher.knots.turn import mirror_knot
from publisher.model.colour import Colour
from publisher.model.figure import Figure
from publisher.model.look import Look
from publisher.model.part_plan import StepsPlan
from publisher.plan import make_plan
from publisher.store import NO_STORE, Memory, Store, digest_of_values
from tests.support.charts import look
from tests.support.parts import LEAF_CORDS, part, pattern_of
from tests.support.shop import demo_plan

KNOTS = load_knots()
LINES = ((4, 39.0), (3, 54.0), (2, 84.0), (1, 174.0))
PATTERN = pattern_of(part())
COLOURS = PATTERN.colours


@pytest.fixture
def store() -> Store:
    """A store that has nothing yet."""
    return Store(Memory())


def take_pen_away(monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*given: Any) -> None:
        raise AssertionError("drawn again")

    monkeypatch.setattr(SvgPen, "end_layer", refuse)
    monkeypatch.setattr(FigureCanvas, "figure", refuse)


def leaf() -> StepsPlan:
    """The same part each time, but another object."""
    return make_plan(pattern_of(part())).parts[0]


def figures(
    plan: StepsPlan,
    knots: Mapping[str, Knot] = KNOTS,
    chosen: Look | None = None,
    store: Store = NO_STORE,
) -> list[Figure]:
    """Its steps, and the finished part."""
    chosen = chosen or look()
    steps = draw_part_steps(plan, COLOURS, knots.__getitem__, chosen, LINES, 80.0, 54.0, store)
    whole = draw_part(plan, COLOURS, knots.__getitem__, chosen, 50, 50, store=store)
    return [*(step.figure for step in steps), whole]


def hanging(store: Store = NO_STORE, width_mm: float = 120.0, **changed: Any) -> Figure:
    """A piece with parts on it, the first of them placed otherwise."""
    plan = demo_plan("kingfisher-over-reeds")
    chart = plan.charts[0]
    first, *others = place_parts(plan, chart.id, KNOTS.__getitem__)
    assert len({one.picture.told for one in (first, *others)}) == 2 < len(others)
    first = replace(first, place=replace(first.place, **changed))
    placed = first, *others
    return draw_hanging(chart, plan.colours, look(), width_mm, 180.0, placed, store=store)


def chart_figures(store: Store = NO_STORE, chosen: Look | None = None) -> list[Figure]:
    """Both tiles of a chart, and its back."""
    plan, chosen = demo_plan("kingfisher-over-reeds"), chosen or look()
    chart = plan.charts[0]
    tiles = plan_tiles(chart.columns, chart.rows, 150.0, 200.0, 1.0, chosen)
    words = Words()
    figures = [
        draw_chart_tile(chart, plan.colours, tiles, tile.number, chosen, words, (), store)
        for tile in tiles.tiles
    ]
    return [*figures, *draw_back_maps(chart, plan.colours, chosen, 150, 200, words, None, store)]


class Words(dict[str, str]):
    """Any words there can be."""

    def __missing__(self, key: str) -> str:
        return "words"


def test_a_part_is_drawn_once_however_often_it_is_planned(
    store: Store, monkeypatch: pytest.MonkeyPatch
) -> None:
    one, other = leaf(), leaf()
    assert one is not other
    before = figures(one, store=store)
    assert before == figures(one)
    take_pen_away(monkeypatch)
    assert figures(other, store=store) == before
    assert figures(other, dict(load_knots()), store=store) == before


def test_a_piece_and_a_chart_are_drawn_once(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    piece, charts = hanging(store), chart_figures(store)
    assert (piece, charts) == (hanging(), chart_figures())
    take_pen_away(monkeypatch)
    assert hanging(store) == piece
    assert chart_figures(store) == charts


def test_a_later_run_draws_nothing_again(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    before = figures(leaf(), store=store), hanging(store), chart_figures(store)
    later = Store(Memory(), store.collect())
    take_pen_away(monkeypatch)
    assert (figures(leaf(), store=later), hanging(later), chart_figures(later)) == before


def test_a_chart_in_another_look_is_drawn_anew(store: Store) -> None:
    before = chart_figures(store)
    changed = replace(look(), mono=True, key="another")
    assert chart_figures(store, changed) == chart_figures(chosen=changed) != before


@pytest.mark.parametrize(
    "changed", [{"row": 9}, {"cord": 9}, {"turn_degrees": 33.0}, {"hold": "top"}, {"hold": "tails"}]
)
def test_a_part_in_another_place_is_drawn_there(store: Store, changed: dict[str, Any]) -> None:
    hanging(store)
    assert hanging(store, **changed) == hanging(**changed)


def test_parts_of_another_size_are_drawn_anew(store: Store) -> None:
    before = hanging(store)
    assert hanging(store, 60.0) == hanging(width_mm=60.0) != before


def test_other_steps_and_knots_are_drawn_anew(store: Store) -> None:
    before = figures(leaf(), store=store)
    fewer = make_plan(pattern_of(part(LEAF_CORDS, part().steps[:2]))).parts[0]
    assert figures(fewer, store=store)[-1] != before[-1]
    mirrored = {name: mirror_knot(knot) for name, knot in KNOTS.items()}
    assert figures(leaf(), mirrored, store=store) == figures(leaf(), mirrored) != before


@pytest.mark.parametrize("name", ["figure", "ink", "paper", "soft"])
def test_every_colour_of_the_look_that_is_seen_is_told(store: Store, name: str) -> None:
    before = figures(leaf(), store=store)
    changed = replace(look(), colours={**look().colours, name: Colour.from_hex("#123456")})
    after = figures(leaf(), chosen=changed, store=store)
    assert after == figures(leaf(), chosen=changed) != before


def test_another_type_and_a_look_without_colour_are_drawn_anew(store: Store) -> None:
    label = replace(look().type["figure-label"], size_pt=15.0)
    larger = replace(look(), type={**look().type, "figure-label": label})
    mono = replace(look(), mono=True)
    seen = [figures(leaf(), chosen=one, store=store) for one in (look(), larger, mono)]
    assert seen[0] != seen[1] != seen[2] != seen[0]


def test_a_yarn_of_another_colour_is_drawn_anew(store: Store) -> None:
    plan = leaf()
    paints = [replace(one, srgb=Colour.from_hex("#123456")) for one in COLOURS]
    before = draw_part(plan, COLOURS, KNOTS.__getitem__, look(), 50, 50, store=store)
    after = draw_part(plan, paints, KNOTS.__getitem__, look(), 50, 50, store=store)
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
    assert [*(step.figure for step in steps), whole] == figures(plan)


def test_parts_are_told_by_value() -> None:
    one, other = (part_told(leaf(), knots_of(leaf(), KNOTS.__getitem__)) for _ in range(2))
    assert digest_of_values(one) == digest_of_values(other)
    assert digest_of_values(one) != digest_of_values((replace(leaf(), width_mm=1.0), one[1]))
