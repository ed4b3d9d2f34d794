"""Two lists aligned: what stays the same is paired, whatever was put in or taken out before it."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.errata.compare.align import align

LONG = 400
"""So many items on both sides are aligned by their equal items alone."""


def cost(before: list[int], after: list[int]) -> list[tuple[int | None, int | None]]:
    return list(align(before, after, lambda i, j: 0 if before[i] == after[j] else 3, 2))


def test_a_row_put_into_a_very_long_chart_leaves_all_others_paired() -> None:
    before = list(range(LONG))
    after = [*before[:5], 1000, *before[5:390], 2000, *before[390:]]
    pairs = cost(before, after)
    assert [pair for pair in pairs if None in pair] == [(None, 5), (None, 391)]
    assert all(before[i] == after[j] for i, j in pairs if i is not None and j is not None)


@settings(deadline=None, max_examples=30)
@given(
    st.lists(st.integers(0, 3), max_size=12),
    st.lists(st.tuples(st.integers(0, LONG - 1), st.integers(0, 9)), max_size=6),
    st.sampled_from([20, LONG]),
)
def test_all_of_both_lists_are_in_it_once_and_in_order(
    more: list[int], changes: list[tuple[int, int]], size: int
) -> None:
    before = [k * 7 % 11 for k in range(size)]
    after = [*before]
    for at, value in changes:
        after[at % size] = value
    after = [*after[: size // 2], *more, *after[size // 2 :]]
    pairs = cost(before, after)
    assert [i for i, _ in pairs if i is not None] == [*range(len(before))]
    assert [j for _, j in pairs if j is not None] == [*range(len(after))]
