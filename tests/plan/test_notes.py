"""Row notes: a maker who does only what they say ties the chart, and ends with no yarn in hand."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.model.pattern import CarryLimit
from publisher.model.plan import ChartPlan, Note
from publisher.plan.rows.notes import passed_behind
from tests.support.grids import LIMITS, ORDERS, SIDES, chart_of, charts


@pytest.mark.parametrize(
    ("origin", "origin_from", "target", "target_from", "behind"),
    [
        # In one row, rightwards: it leaves at the right of 3 and comes to the left of 7.
        (3, "left", 7, "left", (4, 6)),
        (7, "right", 3, "right", (6, 4)),
        # The next row of zigzag starts where this one ended: right above, nothing to pass.
        (3, "left", 3, "right", None),
        (5, "left", 2, "right", (5, 3)),
        (5, "left", 8, "right", (6, 8)),
        # Two rows down: it left at the right of 3, and must come to its left.
        (3, "left", 3, "left", (3, 3)),
        (3, "left", 4, "left", None),
        (6, "right", 2, "right", (5, 3)),
        (2, "right", 6, "right", (2, 6)),
    ],
)
def test_cords_passed_behind(
    origin: int, origin_from: Any, target: int, target_from: Any, behind: tuple[int, int] | None
) -> None:
    assert passed_behind(origin, origin_from, target, target_from) == behind


def test_notes_come_in_the_order_they_are_met() -> None:
    """Row 2 is worked from the right: A is picked up at cord 2, then B at 1; both end there.

    Cut, at 60 mm a knot on cells of 7 x 5 mm: A (180 + 14 + 12 + 200) x 1.1 = 446.6 mm, so 450;
    B (120 + 12 + 200) x 1.1 = 365.2, so 400; C (60 + 200) x 1.1 = 286, so 300.
    """
    plan = chart_of("ABA", "BAC", carry=CarryLimit(2, 1))
    first, second = plan.row_list
    assert first.notes == (
        Note("start", "A1", 1, cut_mm=450.0),
        Note("start", "B1", 2, cut_mm=400.0),
        Note("pick-up", "A1", 3, (2, 2), 0),
    )
    assert second.notes == (
        Note("start", "C1", 3, cut_mm=300.0),
        Note("leave", "C1", 3),
        Note("pick-up", "A1", 2, (3, 3), 1),
        Note("leave", "A1", 2),
        Note("pick-up", "B1", 1, (2, 2), 1),
        Note("leave", "B1", 1),
    )


def pick_ups(chart: ChartPlan, row: int) -> list[tuple[str, int, bool, bool]]:
    """Yarn, cord, and whether it is told, and its row named."""
    notes = chart.row_list[row - 1].notes
    return [(n.yarn, n.cord, n.told, n.needs_row) for n in notes if n.kind == "pick-up"]


def test_a_yarn_right_above_is_picked_up_without_a_note() -> None:
    """B rests to the right of cord 3 and comes back from there; A waits to the left of it."""
    plan = chart_of("AABAA", "AABAA", carry=CarryLimit(2, 1))
    assert pick_ups(plan, 2) == [("B1", 3, False, False), ("A1", 2, True, False)]


def test_a_yarn_two_rows_up_is_told_with_its_row_though_nothing_is_passed() -> None:
    """B rests to the right of cord 2, and comes to cord 3 of row 3 from there."""
    plan = chart_of("ABAAA", "AAAAA", "AABAA", carry=CarryLimit(4, 2))
    assert pick_ups(plan, 3)[0] == ("B1", 3, True, True)
    assert plan.row_list[2].notes[0].behind is None


def test_a_yarn_is_told_with_its_row_where_another_rests_in_the_same_gap() -> None:
    """In row 3 N1 hangs from row 1 and N2 from row 2, both between cords 2 and 3."""
    plan = chart_of(
        "NNRRRRRRR",
        "RRNNNNRRN",
        "RRNNNNRRN",
        "NNRRRRRRR",
        "NNRRRRRRR",
        carry=CarryLimit(6, 2),
    )
    assert pick_ups(plan, 3) == [
        ("N1", 3, True, True),
        ("R1", 7, True, False),
        ("N1", 9, True, False),
    ]
    assert pick_ups(plan, 4) == [("R1", 9, True, False), ("N2", 2, True, True)]


def test_a_yarn_is_told_with_its_row_though_the_other_one_there_hangs_higher() -> None:
    """Row 3: B1 rests to the right of cord 2 since row 1, B2 since row 2: B2 is wanted."""
    plan = chart_of("BBA", "AAB", "BAB", "BBA", carry=CarryLimit(0, 3))
    assert pick_ups(plan, 3)[-1] == ("B2", 3, True, True)
    assert plan.row_list[2].notes[-1].behind is None


def test_a_carried_yarn_is_told_with_its_row_where_another_rests_in_the_same_gap() -> None:
    """Row 3: A1 rests to the right of cord 1 since row 1, A2 since row 2: A2 goes behind."""
    plan = chart_of("ABA", "BAA", "AAA", "ABA", carry=CarryLimit(1, 3))
    (told,) = pick_ups(plan, 3)
    assert told == ("A2", 1, True, True)
    assert plan.row_list[2].notes[0].behind == (1, 1)


def test_a_yarn_is_told_with_its_row_where_another_was_just_laid_down_beside_it() -> None:
    """In row 2, from the right, B2 knots cord 5 and waits beside cord 4; B1 waits above cord 3."""
    plan = chart_of("BBBAA", "BBBAB", "AAAAB", carry=CarryLimit(1, 1))
    assert [note.yarn for note in plan.row_list[1].notes if note.kind == "start"] == ["B2"]
    assert pick_ups(plan, 2)[-1] == ("B1", 3, True, True)
    lonely = chart_of("BBBAA", "BBBAA", "AAAAA", carry=CarryLimit(1, 1))
    assert pick_ups(lonely, 2) == [("B1", 3, False, False)]


def test_a_join_is_told_at_the_first_knot_of_the_new_length() -> None:
    plan = chart_of("AAAAAABBAAAAAA", working_length_mm=730.0)
    notes = [note for note in plan.row_list[0].notes if note.yarn == "A1"]
    assert [(note.kind, note.cord) for note in notes] == [
        ("start", 1),
        ("pick-up", 9),
        ("join", 9),
        ("leave", 14),
    ]


@settings(deadline=None)
@given(charts(5, 9, "AB"), SIDES, ORDERS, st.sampled_from([400.0, 615.0, 3000.0]))
def test_starts_and_joins_say_how_long_each_length_is_cut(
    cells: list[str], side: Any, order: Any, working_mm: float
) -> None:
    plan = chart_of(*cells, first_row_from=side, order=order, working_length_mm=working_mm)
    told: dict[str, list[float]] = {}
    for note in (note for row in plan.row_list for note in row.notes):
        assert (note.cut_mm is not None) == (note.kind in ("start", "join"))
        if note.cut_mm is not None:
            told.setdefault(note.yarn, []).append(note.cut_mm)
    assert told == {yarn.id: list(yarn.cut_lengths_mm) for yarn in plan.yarns}
    lengths = [length for yarn in plan.yarns for length in yarn.cut_lengths_mm[:-1]]
    assert all(length >= plan.full_length_mm >= working_mm for length in lengths)


@settings(deadline=None)
@given(charts(5, 6, "ABC"), SIDES, ORDERS, LIMITS)
def test_following_the_notes_ties_the_chart(
    cells: list[str], side: Any, order: Any, limit: CarryLimit
) -> None:
    plan = chart_of(*cells, first_row_from=side, order=order, carry=limit)
    hanging: dict[str, tuple[int, int, str]] = {}
    left: set[str] = set()
    hand = None
    for row in plan.row_list:
        by_cord: dict[int, list[Note]] = {}
        for note in row.notes:
            by_cord.setdefault(note.cord, []).append(note)
        cords = range(1, plan.columns + 1)
        for cord in cords if row.start == "left" else reversed(cords):
            for note in by_cord.get(cord, []):
                if note.kind == "start":
                    assert note.yarn not in hanging
                    hand = note.yarn
                elif note.kind == "pick-up":
                    last_row, last_cord, last_from = hanging[note.yarn]
                    assert note.rows_down == row.row - last_row
                    behind = passed_behind(last_cord, last_from, cord, row.start)  # type: ignore[arg-type]
                    assert note.behind == behind
                    hand = note.yarn
            assert hand is not None
            assert hand not in left
            assert hand[0] == cells[row.row - 1][cord - 1]
            hanging[hand] = (row.row, cord, row.start)
            left.update(note.yarn for note in by_cord.get(cord, []) if note.kind == "leave")
    assert left == {yarn.id for yarn in plan.yarns}
