"""Tell what changed in a chart: rows added and removed, runs of knots, yarn notes, facts."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from itertools import groupby

from publisher.errata.compare.align import Pairs, align
from publisher.errata.compare.changes import CellRun, ChartChange, FactChange, RowMove
from publisher.errata.compare.content import ChartTold
from publisher.errata.compare.parts import size_change
from publisher.frozen import frozen
from publisher.model.plan import Note

_REDRAWN = 0.5
_GONE = 0xF0000
"""Stands for a colour that is gone, and is nobody's letter (a private plane of Unicode)."""


@frozen
class _Both:
    """A chart before and after. `old`: the old cells in today's letters."""

    before: ChartTold
    after: ChartTold
    letters: Mapping[str, str]
    old: tuple[str, ...]


def chart_change(
    before: ChartTold, after: ChartTold, letters: Mapping[str, str]
) -> ChartChange | None:
    """None where nothing changed. `letters`: old ones to those of now."""
    table = {ord(letter): _now(letter, letters) for letter in set("".join(before.cells))}
    both = _Both(before, after, letters, tuple(row.translate(table) for row in before.cells))
    change = _change(both)
    told = change.picture_changed or change.notes or change.renamed or change.ties
    return change if told or change.lengths or change.facts else None


def _now(letter: str, letters: Mapping[str, str]) -> str:
    return letters.get(letter) or chr(_GONE + ord(letter) % 0xFFFE)


def _change(both: _Both) -> ChartChange:
    before, after = both.before, both.after
    columns = len(after.cells[0])
    pairs = _pairs(both)
    runs = tuple(run for pair in pairs for run in _runs(both, *pair))
    added = tuple(
        (new + 1, after.cells[new]) for old, new in pairs if old is None and new is not None
    )
    removed = tuple(old + 1 for old, new in pairs if new is None and old is not None)
    changed = sum(run.knots for run in runs) + columns * (len(added) + len(removed))
    most = max(len(before.cells) * len(before.cells[0]), len(after.cells) * columns)
    redrawn = len(before.cells[0]) != columns or changed > _REDRAWN * most
    notes, renamed = ((), False) if redrawn else _notes(both, pairs)
    return ChartChange(
        piece=after.id,
        size_before=(len(before.cells[0]), len(before.cells)),
        size=(columns, len(after.cells)),
        cells=after.cells,
        redrawn=redrawn,
        knots_changed=changed,
        runs=() if redrawn else runs,
        added=() if redrawn else added,
        removed=() if redrawn else removed,
        moved=() if redrawn else tuple(_moves(both, pairs)),
        notes=notes,
        renamed=renamed,
        lengths=() if redrawn else _lengths(both, pairs),
        ties=not redrawn and _ties(both, pairs),
        facts=tuple(_facts(both)),
    )


def _pairs(both: _Both) -> Pairs:
    """Rows of before and after that belong together, from 0."""
    old, new = both.old, both.after.cells
    columns = len(new[0])
    if len(old[0]) != columns:
        return tuple((index, None) for index in range(len(old))) + tuple(
            (None, index) for index in range(len(new))
        )
    marks = cache(_marks)

    def cost(i: int, j: int) -> int:
        """Return how many knots differ: all but those that have one letter in both rows."""
        theirs = marks(new[j])
        alike = (mine & theirs.get(letter, 0) for letter, mine in marks(old[i]).items())
        return columns - sum(map(int.bit_count, alike))

    return align(old, new, cost, columns)


def _marks(row: str) -> dict[str, int]:
    """Return where a row has each of its letters, a bit a knot: rows are compared far faster so
    than knot by knot, and in large charts each is compared with hundreds."""
    return {
        letter: int("".join("1" if other == letter else "0" for other in row), 2)
        for letter in set(row)
    }


def _runs(both: _Both, old: int | None, new: int | None) -> Iterator[CellRun]:
    if old is None or new is None:
        return
    cells = zip(both.before.cells[old], both.old[old], both.after.cells[new], strict=True)
    cord = 1
    for (letter, same, now), run in groupby(
        cells, key=lambda cell: (cell[0], cell[1] == cell[2], cell[2])
    ):
        last = cord + len(list(run)) - 1
        if not same:
            yield CellRun(new + 1, old + 1, cord, last, letter, now)
        cord = last + 1


def _moves(both: _Both, pairs: Pairs) -> Iterator[RowMove]:
    """Rows that were renumbered, those that go together told together."""
    moved = [
        (old + 1, new + 1, both.before.start(old + 1) != both.after.start(new + 1))
        for old, new in pairs
        if old is not None and new is not None and old != new
    ]
    for _, same in groupby(
        enumerate(moved), key=lambda item: (item[1][0] - item[0], item[1][1] - item[0], item[1][2])
    ):
        rows = [row for _, row in same]
        yield RowMove(rows[0][0], rows[-1][0], rows[0][1], rows[0][2])


def _notes(both: _Both, pairs: Pairs) -> tuple[tuple[int, ...], bool]:
    """New numbers of rows whose yarns are handled otherwise; and whether only names changed in
    others. Rows whose number changed are told by where their yarns go, as all others are."""
    rows: list[int] = []
    renamed = False
    for old, new in pairs:
        if old is None or new is None:
            continue
        was, now = both.before.notes[old], both.after.notes[new]
        before = [_done(note, both.letters) for note in was]
        if before != [_done(note, None) for note in now]:
            rows.append(new + 1)
        elif [_yarn(note, both.letters) for note in was] != [note.yarn for note in now]:
            renamed = True
    return tuple(rows), renamed


def _lengths(both: _Both, pairs: Pairs) -> tuple[int, ...]:
    """New numbers of rows that are worked as they were, with yarns cut to other lengths."""
    rows: list[int] = []
    for old, new in pairs:
        if old is None or new is None:
            continue
        was, now = both.before.notes[old], both.after.notes[new]
        if [_done(n, both.letters) for n in was] == [_done(n, None) for n in now] and any(
            one.cut_mm not in (None, other.cut_mm) for one, other in zip(was, now, strict=True)
        ):
            rows.append(new + 1)
    return tuple(rows)


def _done(note: Note, letters: Mapping[str, str] | None) -> tuple[object, ...]:
    """Return what a note asks for, whatever its yarn's number is."""
    letter = note.yarn[:1] if letters is None else letters.get(note.yarn[:1], "")
    return note.kind, letter, note.cord, note.behind, note.rows_down, note.contested


def _yarn(note: Note, letters: Mapping[str, str]) -> str:
    return letters.get(note.yarn[:1], "") + note.yarn[1:]


def _ties(both: _Both, pairs: Pairs) -> bool:
    """Are ends tied to others, or woven in, than before?"""
    rows = {old + 1: new + 1 for old, new in pairs if old is not None and new is not None}

    def moved(ends: Sequence[tuple[int, int]]) -> tuple[tuple[int, int], ...]:
        return tuple(sorted((rows.get(row, 0), cord) for row, cord in ends))

    before, after = both.before, both.after
    return sorted(map(moved, before.pairs)) != sorted(
        tuple(sorted(pair)) for pair in after.pairs
    ) or moved(before.singles) != tuple(sorted(after.singles))


def _facts(both: _Both) -> Iterator[FactChange]:
    before, after = both.before, both.after
    for name in _FACTS:
        was, now = getattr(before, name), getattr(after, name)
        if was != now:
            yield FactChange(name, was, now)
    if both.letters.get(before.cord_colour) != after.cord_colour:
        yield FactChange("cord_colour", before.cord_colour, after.cord_colour)
    if before.full_length_mm not in (None, after.full_length_mm):
        yield FactChange("full_length_mm", before.full_length_mm, after.full_length_mm)
    same_size = len(before.cells[0]) == len(after.cells[0])
    yield from size_change(before, after)
    if _fringe(before) != _fringe(after) or (same_size and before.fringe_mm != after.fringe_mm):
        yield FactChange("fringe", _fringe(before), _fringe(after))
    elif same_size and before.cords_mm != after.cords_mm:
        yield FactChange("cords_mm", None, None)


_FACTS = (
    "make",
    "first_row_from",
    "order",
    "knot",
    "mount",
    "cord_strands",
    "measured",
    "tail_mm",
    "allowance_percent",
    "dowel_length_mm",
    "hanging_loop_mm",
)


def _fringe(chart: ChartTold) -> tuple[float, float, float]:
    """At the left edge, in the middle, and the longest."""
    fringe = chart.fringe_mm
    return fringe[0], fringe[len(fringe) // 2], max(fringe)
