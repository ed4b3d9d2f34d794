"""A maker who does what a page says, and no more: she holds yarns, and works row by row.

She knows a yarn by its name and by where it hangs. Where a note names one, it must hang where the
note says, alone of its colour; where none does, she takes the open yarn of the run's colour that
hangs nearest, however she measures. She stops (AssertionError) where a page leaves her a choice.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from tests.support.told_rows import Act, ToldPiece, ToldRow, millimetres

Cell = tuple[int, int]
"""Row and cord."""


@dataclass(slots=True)
class Length:
    """One cut length of a yarn, and what was used of it: `planned_mm` by rows down and cords
    across, `straight_mm` by the shortest way behind the work."""

    cut_mm: float
    planned_mm: float
    straight_mm: float

    def use(self, planned_mm: float, straight_mm: float | None = None) -> None:
        self.planned_mm += planned_mm
        self.straight_mm += planned_mm if straight_mm is None else straight_mm


@dataclass(slots=True)
class Yarn:
    """A yarn as she has it. It rests in a gap, told by the cord to the left of it."""

    name: str
    colour: str
    lengths: list[Length]
    cells: list[Cell] = field(default_factory=list)
    gap: int = 0
    joins: list[Cell] = field(default_factory=list)
    carries: list[tuple[Cell, Cell]] = field(default_factory=list)
    left: bool = False


@dataclass(slots=True)
class Maker:
    """`wide_mm`, `high_mm`: a cell; `knot_mm`: the yarn that a knot takes, by colour."""

    wide_mm: float
    high_mm: float
    knot_mm: Mapping[str, float]
    tail_mm: float
    yarns: dict[str, Yarn] = field(default_factory=dict)
    cloth: list[str] = field(default_factory=list)
    unnamed: int = 0
    """How often she took a yarn that no note named."""
    _full: str = ""
    _hand: Yarn | None = None

    def work(self, piece: ToldPiece) -> None:
        self._full = piece.full
        for number, row in enumerate(piece.rows, 1):
            assert row.row == number, "rows come one after the other"
            self._row(row)
        held = [yarn.name for yarn in self.yarns.values() if not yarn.left]
        assert not held, f"{held} still hang when all is worked"

    def _row(self, row: ToldRow) -> None:
        count = sum(knots for knots, _ in row.runs)
        cords = range(1, count + 1) if row.start == "left" else range(count, 0, -1)
        acts = list(row.acts)
        worked, line = iter(cords), {}
        for at, (knots, colour) in enumerate(row.runs):
            for knot in range(knots):
                cord = next(worked)
                before = list(_take(acts, cord, "start", "pick up", "join"))
                self._yarn_for(row, cord, colour, before, begins=knot == 0, first=at == 0)
                self._knot(row, cord)
                line[cord] = colour
                for act in _take(acts, cord, "leave"):
                    self._leave(act)
        assert not acts, f"row {row.row} tells what never comes: {acts}"
        self.cloth.append("".join(line[cord] for cord in sorted(line)))

    def _yarn_for(
        self, row: ToldRow, cord: int, colour: str, acts: Sequence[Act], begins: bool, first: bool
    ) -> None:
        """Have the right yarn in hand for a knot."""
        gap = cord - 1 if row.start == "left" else cord
        where = f"row {row.row}, cord {cord}"
        goes_on = not begins or (first and self._holds(colour, gap))
        for act in acts:
            if act.kind == "start":
                assert act.yarn not in self.yarns and act.yarn[0] == colour, where
                self.yarns[act.yarn] = Yarn(act.yarn, colour, [self._cut(act)])
                self._hand, goes_on = self.yarns[act.yarn], True
            elif act.kind == "pick up":
                assert begins and not goes_on, where
                self._hand, goes_on = self._find(row, gap, colour, act), True
                self._carry(self._hand, row, cord, gap)
        if not goes_on:
            self._hand = self._nearest(row, gap, colour)
            self._carry(self._hand, row, cord, gap)
            self.unnamed += 1
        assert self._hand and not self._hand.left and self._hand.colour == colour, where
        for act in acts:
            if act.kind == "join":
                assert act.yarn == self._hand.name, f"{where}: {act.yarn} is not in hand"
                self._hand.lengths.append(self._cut(act))
                self._hand.joins.append((row.row, cord))

    def _holds(self, colour: str, gap: int) -> bool:
        """Does the yarn in hand go on round the edge?"""
        hand = self._hand
        return bool(hand and not hand.left and hand.colour == colour and hand.gap == gap)

    def _cut(self, act: Act) -> Length:
        told = act.length or self._full
        assert told, f"nobody tells how long {act.yarn} is cut"
        return Length(millimetres(told), 2 * self.tail_mm, 2 * self.tail_mm)

    def _open(self, colour: str) -> list[Yarn]:
        return [one for one in self.yarns.values() if one.colour == colour and not one.left]

    def _find(self, row: ToldRow, gap: int, colour: str, act: Act) -> Yarn:
        """The yarn that hangs where a note says: its name is not even needed."""
        hangs = gap
        if act.behind:
            first, last = act.behind
            assert gap in (last, last - 1), f"row {row.row}: {act} does not lead to its cord"
            hangs = first - 1 if gap == last else first
            assert hangs != gap
        found = [one for one in self._open(colour) if one.gap == hangs]
        if act.row is not None:
            found = [one for one in found if one.cells[-1][0] == act.row]
        else:
            assert all(row.row - one.cells[-1][0] <= 1 for one in found), (row.row, act)
        assert [one.name for one in found] == [act.yarn], f"row {row.row}: {act}, but {found}"
        return found[0]

    def _nearest(self, row: ToldRow, gap: int, colour: str) -> Yarn:
        """The open yarn of a colour that hangs nearest, and no other as near."""
        measures: tuple[Callable[[int, int], float], ...] = (
            lambda across, down: across + down,
            lambda across, down: across * self.wide_mm + down * self.high_mm,
            lambda across, down: math.hypot(across * self.wide_mm, down * self.high_mm),
        )
        taken = set()
        for measure in measures:
            far = sorted(
                (measure(abs(one.gap - gap), row.row - one.cells[-1][0]), one.name)
                for one in self._open(colour)
            )
            assert far, f"row {row.row}: no {colour} hangs anywhere"
            assert len(far) == 1 or far[1][0] > far[0][0] + 1e-6, f"row {row.row}: {far}"
            taken.add(far[0][1])
        assert len(taken) == 1, f"row {row.row}: {taken} are all near"
        here = [one.name for one in self._open(colour) if one.gap == gap]
        assert here == [*taken], f"row {row.row}: {here} hang right there, {taken} nearest"
        yarn = self.yarns[taken.pop()]
        assert row.row - yarn.cells[-1][0] <= 1, f"row {row.row}: {yarn}"
        return yarn

    def _carry(self, yarn: Yarn, row: ToldRow, cord: int, gap: int) -> None:
        """Behind the work to another cord: with the length in use, also where another joins."""
        above, beside = yarn.cells[-1]
        down_mm = (row.row - above) * self.high_mm
        straight_mm = math.hypot(abs(gap - yarn.gap) * self.wide_mm, down_mm)
        yarn.lengths[-1].use(abs(cord - beside) * self.wide_mm + down_mm, straight_mm)
        yarn.carries.append(((above, beside), (row.row, cord)))

    def _knot(self, row: ToldRow, cord: int) -> None:
        yarn = self._hand
        assert yarn
        yarn.cells.append((row.row, cord))
        yarn.gap = cord if row.start == "left" else cord - 1
        yarn.lengths[-1].use(self.knot_mm[yarn.colour])

    def _leave(self, act: Act) -> None:
        assert self._hand and act.yarn == self._hand.name, act
        self._hand.left = True


def _take(acts: list[Act], cord: int, *kinds: str) -> Iterator[Act]:
    """The next notes, while they are for this cord; what comes out of order stays."""
    while acts and acts[0].cord == cord and acts[0].kind in kinds:
        yield acts.pop(0)
