"""What changed between two releases: carried out on the old chart, the errata give the new one."""

from __future__ import annotations

from dataclasses import replace

import pytest
from grids import pattern_of
from hypothesis import given
from hypothesis import strategies as st
from shop import demo, demo_plan

from publisher.plan import make_plan
from publisher.plan.errata import content_of, find_errata
from publisher.plan.errata.charts import corrected
from publisher.plan.errata.colours import match_letters
from publisher.plan.errata.content import Content
from publisher.plan.errata.keeping import from_plain, to_plain
from publisher.plan.errata.values import Errata
from publisher.source.pattern import Pattern

PALETTE = dict(zip("ABCD", ("#f4ead2", "#1b2136", "#c4602a", "#1e6bab"), strict=True))


def content(pattern: Pattern, terms: str = "You may knot it.") -> Content:
    return content_of(pattern, make_plan(pattern), terms)


def of(*cells: str, **changes: object) -> Content:
    """The content of a chart; all four colours are there, used or not."""
    return content(pattern_of(*cells, palette=PALETTE, **changes))


def charts(rows: int = 6, columns: int = 5) -> st.SearchStrategy[tuple[str, ...]]:
    row = st.text("AB", min_size=columns, max_size=columns)
    return st.lists(row, min_size=1, max_size=rows).map(tuple)


@st.composite
def two_charts(draw: st.DrawFn) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """A chart, and another one that is near to it: some rows dropped, some new, knots changed."""
    before = draw(charts())
    after = []
    for row in before:
        kind = draw(st.sampled_from(["same", "same", "same", "changed", "gone", "more"]))
        other = draw(st.text("ABC", min_size=5, max_size=5))
        if kind == "same":
            after.append(row)
        elif kind == "changed":
            after.append(row[:2] + other[:1] + row[3:])
        elif kind == "more":
            after += [row, other]
    return before, tuple(after) or before


def changed(errata: Errata) -> tuple[int, int, int, int]:
    """Knots changed in all and in runs, rows added, rows removed."""
    if not errata.charts:
        return 0, 0, 0, 0
    (chart,) = errata.charts
    in_runs = sum(run.knots for run in chart.runs)
    return chart.knots_changed, in_runs, len(chart.added), len(chart.removed)


@given(two_charts())
def test_errata_carried_out_on_the_old_chart_give_the_new_one(
    pair: tuple[tuple[str, ...], tuple[str, ...]],
) -> None:
    before, after = (of(*cells) for cells in pair)
    errata = find_errata(before, after)
    letters = match_letters(before.colours, after.colours)
    if errata.charts:
        assert corrected(errata.charts[0], pair[0], letters) == pair[1]
    else:
        assert pair[0] == pair[1]


@given(two_charts())
def test_what_changes_one_way_changes_back(
    pair: tuple[tuple[str, ...], tuple[str, ...]],
) -> None:
    before, after = (of(*cells) for cells in pair)
    knots, runs, added, removed = changed(find_errata(before, after))
    assert changed(find_errata(after, before)) == (knots, runs, removed, added)


@given(two_charts())
def test_errata_are_empty_only_where_nothing_changed(
    pair: tuple[tuple[str, ...], tuple[str, ...]],
) -> None:
    before, after = (of(*cells) for cells in pair)
    assert find_errata(before, before).is_empty
    assert find_errata(before, after).is_empty == (before == after) == (pair[0] == pair[1])


@given(two_charts())
def test_content_is_kept_as_json_and_comes_back_the_same(
    pair: tuple[tuple[str, ...], tuple[str, ...]],
) -> None:
    told = of(*pair[0])
    assert from_plain(Content, to_plain(told)) == told
