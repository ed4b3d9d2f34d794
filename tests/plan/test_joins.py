"""Where a long yarn is joined, against trying every way."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations, pairwise

from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.model.plan import Spot, Stretch
from publisher.plan.routing.joins import join_lengths
from publisher.plan.rows.working_order import Passage
from tests.support.grids import chart_of

KNOT = 10.0


def passage(*stretches: int) -> Passage:
    """A run of so many knots in each row."""
    return Passage("A", tuple(Stretch(row, 1, n, n) for row, n in enumerate(stretches, 1)))


def cost_of(chain: Sequence[Passage], joins: Sequence[int]) -> tuple[int, int, int]:
    """Joins inside runs; those in sight; those hidden in the run but near its turn."""
    inside = in_sight = near_turn = 0
    for join in joins:
        done = 0
        for run in chain:
            if done < join < done + run.knots:
                inside += 1
                at = join - done
                if run.knots < 5 or not 2 <= at <= run.knots - 2:
                    in_sight += 1
                    break
                row = 0
                for stretch in run.stretches:
                    if row <= at < row + stretch.knots:
                        in_row = at - row
                        if stretch.knots < 5 or not 2 <= in_row <= stretch.knots - 2:
                            near_turn += 1
                    row += stretch.knots
            done += run.knots
    return inside, in_sight, near_turn


def used_by(
    chain: Sequence[Passage], carried: Sequence[float], joins: Sequence[int]
) -> list[float]:
    """Knots and carries of each length; a carry goes with the length before a join."""
    starts, done = {}, 0
    for number, run in enumerate(chain):
        if number:
            starts[done] = carried[number - 1]
        done += run.knots
    marks = [0, *joins, done]
    return [
        (stop - start) * KNOT + sum(mm for at, mm in starts.items() if start < at <= stop)
        for start, stop in pairwise(marks)
    ]


@settings(max_examples=120, deadline=None)
@given(
    st.lists(st.lists(st.integers(1, 7), min_size=1, max_size=2), min_size=1, max_size=3).filter(
        lambda runs: sum(map(sum, runs)) <= 14
    ),
    st.lists(st.sampled_from([0.0, 7.0, 25.0]), min_size=2, max_size=2),
    st.sampled_from([25.0, 40.0, 60.0, 85.0]),
)
def test_joins_are_the_best_there_are(
    runs: list[list[int]], carried: list[float], reach: float
) -> None:
    """Fewest lengths; then fewest joins inside runs; then the least seen; the last length short."""
    chain = [passage(*run) for run in runs]
    knots = sum(run.knots for run in chain)
    carried = carried[: len(chain) - 1]

    def fits(joins: Sequence[int]) -> bool:
        marks = [0, *joins, knots]
        used = used_by(chain, carried, joins)
        single = [stop - start == 1 for start, stop in pairwise(marks)]
        return all(mm <= reach or one for mm, one in zip(used, single, strict=True))

    found = join_lengths(chain, carried, KNOT, reach)
    assert list(found.used_mm) == used_by(chain, carried, found.joins)
    assert fits(found.joins)
    for fewer in range(len(found.joins)):
        assert not any(fits(joins) for joins in combinations(range(1, knots), fewer))
    ways = [j for j in combinations(range(1, knots), len(found.joins)) if fits(j)]
    best = min(cost_of(chain, joins) for joins in ways)
    assert cost_of(chain, found.joins) == best
    if found.joins:
        last = max(joins[-1] for joins in ways if cost_of(chain, joins) == best)
        assert found.joins[-1] == last


def test_a_join_waits_for_the_end_of_a_run() -> None:
    """Two runs of 6 knots, reach 10 knots: 7 to 10 would do, but only 6 is between runs."""
    found = join_lengths([passage(6), passage(6)], [0.0], KNOT, 100.0)
    assert found.joins == (6,)


def test_a_join_inside_keeps_two_cords_off_the_ends_of_a_long_run() -> None:
    """Runs of 4 and 9, reach 8: two lengths for 13 knots, so the first makes 5 to 8 of them.

    All those places are inside the second run; two cords off its start leaves 6 to 8, and the
    latest makes the last length the shortest.
    """
    found = join_lengths([passage(4), passage(9)], [0.0], KNOT, 80.0)
    assert found.joins == (8,)


def test_a_join_near_an_end_is_taken_only_where_it_must_be() -> None:
    """One run of 6, reach 5: the first length makes 1 to 5; two off both ends, 2 to 4."""
    found = join_lengths([passage(6)], [], KNOT, 50.0)
    assert found.joins == (4,)
    found = join_lengths([passage(9)], [], KNOT, 50.0)
    assert found.joins == (5,)


def test_both_ends_of_a_join_hang_at_one_place() -> None:
    """Between runs the old length is carried along to where the new one takes over."""
    plan = chart_of("AAAAAABBAAAAAA", working_length_mm=730.0)
    (yarn,) = (yarn for yarn in plan.yarns if yarn.colour == "A")
    assert yarn.joins == (Spot(1, 9),)
    assert [(end.kind, end.cord) for end in plan.ends if end.yarn == "A1"] == [
        ("start", 1),
        ("join-finish", 9),
        ("join-start", 9),
        ("finish", 14),
    ]
