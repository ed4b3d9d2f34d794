"""Align two lists so that the least has to be changed, added and removed."""

from __future__ import annotations

from collections.abc import Callable, Sequence

_Pair = tuple[int | None, int | None]
Pairs = tuple[_Pair, ...]
"""Places, from 0, in the first and the second list; None: added, or removed."""

_MOST = 100_000


def align(
    before: Sequence[object],
    after: Sequence[object],
    cost: Callable[[int, int], int],
    gap: int,
) -> Pairs:
    """Pairs in order. `cost(i, j)`: of changing one item into the other, 0 where they are equal;
    `gap`: of adding or removing one. Where several ways cost as much, the one that adds and
    removes the fewest. What is equal at both ends stays out of it; very long lists are aligned
    by their equal items alone.
    """
    first = 0
    while first < min(len(before), len(after)) and before[first] == after[first]:
        first += 1
    last = 0
    while last < min(len(before), len(after)) - first and before[-1 - last] == after[-1 - last]:
        last += 1
    ends = len(before) - last, len(after) - last
    middle = (
        _cheapest(range(first, ends[0]), range(first, ends[1]), cost, gap)
        if (ends[0] - first) * (ends[1] - first) <= _MOST
        else _by_equals(before, after, first, ends)
    )
    head = tuple((index, index) for index in range(first))
    tail = tuple((ends[0] + index, ends[1] + index) for index in range(last))
    return (*head, *middle, *tail)


def _cheapest(
    rows: range, columns: range, cost: Callable[[int, int], int], gap: int
) -> list[_Pair]:
    """By dynamic programming: a cost is (cost, how many are added or removed)."""
    table = [[(gap * j, j) for j in range(len(columns) + 1)]]
    for i, row in enumerate(rows, 1):
        above = table[-1]
        line = [(gap * i, i)]
        for j, column in enumerate(columns, 1):
            changed = above[j - 1][0] + cost(row, column), above[j - 1][1]
            removed = above[j][0] + gap, above[j][1] + 1
            added = line[j - 1][0] + gap, line[j - 1][1] + 1
            line.append(min(changed, removed, added))
        table.append(line)
    return _way_back(table, rows, columns, cost, gap)


def _way_back(
    table: list[list[tuple[int, int]]],
    rows: range,
    columns: range,
    cost: Callable[[int, int], int],
    gap: int,
) -> list[_Pair]:
    pairs: list[_Pair] = []
    i, j = len(rows), len(columns)
    while i or j:
        if i and j:
            before, more = table[i - 1][j - 1]
            if table[i][j] == (before + cost(rows[i - 1], columns[j - 1]), more):
                i, j = i - 1, j - 1
                pairs.append((rows[i], columns[j]))
                continue
        above = table[i - 1][j] if i else None
        if above is not None and table[i][j] == (above[0] + gap, above[1] + 1):
            i -= 1
            pairs.append((rows[i], None))
        else:
            j -= 1
            pairs.append((None, columns[j]))
    return pairs[::-1]


def _by_equals(
    before: Sequence[object], after: Sequence[object], first: int, ends: tuple[int, int]
) -> list[_Pair]:
    from difflib import SequenceMatcher

    matcher = SequenceMatcher(None, before[first : ends[0]], after[first : ends[1]], autojunk=False)
    pairs: list[_Pair] = []
    for _, start, stop, other, end in matcher.get_opcodes():
        both = min(stop - start, end - other)
        pairs += ((first + start + k, first + other + k) for k in range(both))
        pairs += ((first + k, None) for k in range(start + both, stop))
        pairs += ((None, first + k) for k in range(other + both, end))
    return pairs
