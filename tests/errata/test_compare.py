"""What changed between two releases: carried out on the old chart, the errata give the new one."""

from __future__ import annotations

import json
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from itertools import permutations
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.errata.compare import content_of, find_errata
from publisher.errata.compare.amounts import cut_changes
from publisher.errata.compare.changes import ChartChange, Errata
from publisher.errata.compare.colours import match_letters
from publisher.errata.compare.content import ReleaseContent
from publisher.errata.compare.keeping import from_plain, to_plain
from publisher.model.parts import Trim
from publisher.model.pattern import Cords, Fringe, Pattern
from publisher.model.plan import CutLine
from publisher.plan import make_plan
from tests.support.grids import COTTON, pattern_of
from tests.support.shop import demo, demo_plan

PALETTE = dict(zip("ABCD", ("#f4ead2", "#1b2136", "#c4602a", "#1e6bab"), strict=True))


def content(pattern: Pattern, terms: str = "You may knot it.") -> ReleaseContent:
    return content_of(pattern, make_plan(pattern), terms)


def of(*cells: str, **changes: object) -> ReleaseContent:
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


def corrected(
    change: ChartChange, before: Sequence[str], letters: Mapping[str, str]
) -> tuple[str, ...]:
    """The old chart with its errata carried out, as an earlier buyer would: the new chart."""
    if change.redrawn:
        return change.cells
    kept = [
        [letters.get(letter, letter) for letter in row]
        for number, row in enumerate(before, 1)
        if number not in change.removed
    ]
    for row, cells in change.added:
        kept.insert(row - 1, list(cells))
    for run in change.runs:
        kept[run.row - 1][run.first_cord - 1 : run.last_cord] = run.after * run.knots
    return tuple(map("".join, kept))


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
    assert from_plain(ReleaseContent, to_plain(told)) == told


def test_one_knot_of_a_demo_pattern_worked_by_hand() -> None:
    """Tide Lines with a knot of D at the end of row 1, which was C."""
    pattern = demo("tide-lines")
    piece = pattern.charts[0]
    cells = (piece.cells[0][:-1] + "D", *piece.cells[1:])
    changed_pattern = replace(pattern, pieces=(replace(piece, cells=cells),))
    errata = find_errata(content(pattern), content(changed_pattern))
    (chart,) = errata.charts
    assert not chart.redrawn
    assert (chart.knots_changed, chart.added, chart.removed, chart.moved) == (1, (), (), ())
    (run,) = chart.runs
    assert (run.row, run.row_before, run.first_cord, run.last_cord) == (1, 1, 24, 24)
    assert (run.before, run.after) == ("C", "D")
    # The new D stands alone: D is next wanted in row 13, further than the two rows that a yarn may
    # be carried. So it is a yarn of its own, the first of its colour, and the others move up by
    # one: rows whose yarns do what they did, under another name.
    assert chart.renamed
    # C has to leave before cord 24 in row 1, is wanted again at cord 24 of row 2, and passes
    # behind what is new.
    assert chart.notes[0] == 1
    assert chart.ties, "two ends more hang at the back"
    # One knot of this yarn takes 92.9 mm on 4 mm cords; with a tail of 100 mm at each end that is
    # 292.9 mm, with 10 % to spare 322.2 mm, and cut in steps of 50 mm it is 350 mm.
    (cut,) = errata.cutting
    assert (cut.piece, cut.purpose, cut.colour) == ("panel", "working yarn", "D")
    assert cut.before == ((5, 3000.0), (1, 2750.0))
    assert cut.after == (*cut.before, (1, 350.0))
    assert cut.more == ((1, 350.0),)
    # 5 x 3000 + 2750 = 17 750 mm was bought as 18 m, and 134 g at 7.5 g a metre. It is 18 100 mm
    # now: 19 m and 136 g. Both are on one ball of 80 m, from which the new length can be cut
    # whatever was cut before.
    (buy,) = errata.shopping
    assert buy.before is not None
    assert buy.after is not None
    assert (buy.before.length_m, buy.before.mass_g, buy.before.balls) == (18, 134, 1)
    assert (buy.after.length_m, buy.after.mass_g, buy.after.balls) == (19, 136, 1)
    assert not buy.short
    assert not errata.after_cutting
    assert errata.short, "a length must be cut besides"
    assert errata.touches_finished
    assert not (errata.colours or errata.yarns or errata.parts or errata.words or errata.knots)


def test_rows_whose_yarns_are_only_cut_to_other_lengths() -> None:
    """Row 3 is worked otherwise; row 1, where its yarn starts, as it was, with a longer one."""
    before, after = of("AAB", "BBB", "BBB"), of("AAB", "BBB", "BBB", "BBB")
    (chart,) = find_errata(before, after).charts
    assert (chart.lengths, chart.notes) == ((1,), (3,)), "B is left a row further down"
    assert 1 not in chart.rows_changed
    untold = replace(
        before,
        charts=tuple(
            replace(
                one,
                full_length_mm=None,
                notes=tuple(tuple(replace(n, cut_mm=None) for n in row) for row in one.notes),
            )
            for one in before.charts
        ),
    )
    (chart,) = find_errata(untold, after).charts
    assert not chart.lengths, "what an older record does not know is not told as a change"
    assert not any(fact.name == "full_length_mm" for fact in chart.facts)
    (chart,) = find_errata(before, of("AAB", "BBB", "BBB", working_length_mm=2500.0)).charts
    assert [fact.name for fact in chart.facts] == ["full_length_mm"]


def test_who_has_cut_everything_may_need_another_ball() -> None:
    """Ten cords of 390 mm hang; with a longer fringe each must be cut anew, and 100 m is bought."""
    cells = ("A" * 10,) * 4
    before, after = (
        of(*cells, fringe=Fringe("straight", mm, mm), yarns={"A": yarn})
        for mm in (150.0, 250.0)
        for yarn in [replace(COTTON, ball_metres=12.0)]
    )
    errata = find_errata(before, after)
    (was,), (now,) = before.shopping, after.shopping
    assert was.balls == now.balls, "one who has only bought has enough"
    assert not any(change.short for change in errata.shopping)
    cut = next(change for change in errata.cutting if change.purpose == "cords")
    assert cut.more == cut.after, "no old cord is long enough"
    more_m = sum(
        count * length / 1000 for change in errata.cutting for count, length in change.more
    )
    assert was.left_m is not None
    missing_m = more_m - was.left_m
    (more,) = errata.after_cutting
    assert (more.colour, more.length_m, more.balls) == (
        "A",
        math.ceil(missing_m),
        math.ceil(missing_m / 12),
    )


@given(
    st.lists(st.integers(1, 9), min_size=1, max_size=6),
    st.lists(st.integers(1, 9), min_size=1, max_size=6),
)
def test_missing_lengths_are_the_fewest_that_can_be(old: list[int], new: list[int]) -> None:
    """Against every way of laying old lengths to new ones."""

    def lines(lengths: list[int]) -> list[CutLine]:
        return [CutLine("p", "cords", "A", 1, float(length)) for length in lengths]

    changes = cut_changes(lines(old), lines(new), {"A": "A"})
    missing = sum(count for change in changes for count, _ in change.more)
    short = len(new) - len(old)
    stock = [*old, *[0] * max(0, short)]
    ways = permutations(stock, len(new))
    assert missing == min(sum(was < now for was, now in zip(way, new, strict=True)) for way in ways)


def test_rows_that_move_say_if_they_are_worked_from_the_other_side() -> None:
    old = ("AAAB", "ABAB", "BBAA", "AABB", "BABA")
    new = (*old[:2], "BBBB", *old[2:])
    (chart,) = find_errata(of(*old), of(*new)).charts
    assert chart.added == ((3, "BBBB"),)
    assert [(move.first_before, move.last_before, move.first) for move in chart.moved] == [
        (3, 5, 4)
    ]
    assert chart.moved[0].turned, "zigzag: a row more turns all below it"
    (chart,) = find_errata(of(*old, order="one-way"), of(*new, order="one-way")).charts
    assert not chart.moved[0].turned


def test_colour_with_another_letter_is_the_same_colour() -> None:
    """Renaming a letter all over the chart changes no knot."""
    pattern = pattern_of("AABB", "ABAB", palette=PALETTE)
    piece, colour = pattern.charts[0], pattern.colours[0]
    lettered = replace(
        pattern,
        colours=(replace(colour, letter="C"), *pattern.colours[1:]),
        pieces=(replace(piece, cells=("CCBB", "CBCB"), cords=Cords("C")),),
    )
    before, after = content(pattern), content(lettered)
    errata = find_errata(before, after)
    assert [change.before and change.before.letter for change in errata.colours] == ["A"]
    assert [change.after and change.after.letter for change in errata.colours] == ["C"]
    assert not any(chart.runs or chart.redrawn for chart in errata.charts)
    assert not errata.cutting
    assert not errata.shopping


def test_more_than_half_is_redrawn_and_not_listed() -> None:
    (chart,) = find_errata(of("AAAA", "AAAA"), of("ABBB", "ABBA")).charts
    assert chart.redrawn
    assert not (chart.runs or chart.added or chart.removed or chart.notes)
    (chart,) = find_errata(of("AAAA", "AAAA"), of("ABBA", "AABB")).charts
    assert not chart.redrawn, "half of it is not more than half"
    (chart,) = find_errata(of("AAAA", "AAAA"), of("AAAAA", "AAAAA")).charts
    assert chart.redrawn, "another number of cords is another chart"


def test_words_and_prices_touch_no_finished_piece_and_terms_do() -> None:
    pattern = pattern_of("AABB")
    plan = make_plan(pattern)
    told = content_of(pattern, plan, "Knot it.")
    retold = content_of(replace(pattern, subtitle="Another"), plan, "Knot it.")
    errata = find_errata(told, retold)
    assert [change.name for change in errata.words] == ["subtitle"]
    assert not errata.is_empty
    assert not errata.touches_finished
    assert find_errata(told, content_of(pattern, plan, "Sell none.")).touches_finished


def test_parts_and_places() -> None:
    """The kingfisher's leaf is trimmed shorter, one leaf moves, one seed head is left out."""
    pattern = demo("kingfisher-over-reeds")
    leaf = pattern.parts[0]
    last = leaf.steps[-1]
    assert isinstance(last, Trim)
    shorter = replace(leaf, steps=(*leaf.steps[:-1], replace(last, trim_mm=12.0)))
    first, *others = pattern.assembly
    assert first.at is not None
    moved = replace(first, at=replace(first.at, row=30))
    seeds = [step for step in others if step.piece == "seed-head"]
    kept = [step for step in others if step is not seeds[0]]
    after = replace(
        pattern,
        pieces=tuple(shorter if piece is leaf else piece for piece in pattern.pieces),
        assembly=(moved, *kept),
    )
    errata = find_errata(content(pattern), content(after))
    (part,) = errata.parts
    assert part.piece == "reed-leaf"
    (step,) = part.steps
    assert step.before is not None
    assert step.after is not None
    assert (step.before.length_mm, step.after.length_mm) == (15.0, 12.0)
    changes = [(change.before, change.after) for change in errata.assembly]
    assert len(changes) == 2
    assert changes[0][1] is not None
    assert changes[0][1].placement is not None
    assert changes[0][1].placement.row == 30
    assert changes[1][0] is not None
    assert (changes[1][0].piece, changes[1][1]) == ("seed-head", None)


@pytest.mark.parametrize("slug", ["kingfisher-over-reeds", "lock-keepers-key-cord"])
def test_content_of_a_demo_pattern_is_kept_whole(slug: str) -> None:
    told = content_of(demo(slug), demo_plan(slug), "Terms.\n\nMore terms.")
    assert from_plain(ReleaseContent, json.loads(json.dumps(to_plain(told)))) == told
    assert find_errata(told, told).is_empty


@pytest.mark.parametrize(
    "spoil",
    [
        lambda plain: plain.pop("knots"),
        lambda plain: plain.update(more=1),
        lambda plain: plain["charts"][0].update(make="1"),
        lambda plain: plain["charts"][0].update(tail_mm=True),
        lambda plain: plain["charts"][0].update(tail_mm=float("nan")),
        lambda plain: plain["charts"][0].update(order="spiral"),
        lambda plain: plain["colours"].append([]),
        lambda plain: plain["charts"][0]["notes"][0].append("start"),
        lambda plain: plain.update(words=[]),
        lambda plain: plain["charts"][0]["singles"].append([1, 2, 3]),
    ],
)
def test_content_that_was_changed_is_not_read(spoil: Callable[[Any], Any]) -> None:
    plain = to_plain(of("AAAB", "ABBB"))
    spoil(plain)
    with pytest.raises(ValueError, match="is not as it was written"):
        from_plain(ReleaseContent, plain)
