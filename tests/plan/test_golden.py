"""Plans worked through on paper once, and kept: NAME.toml beside NAME.plan.json.

When a rule of planning changes on purpose, work the numbers below anew before writing new files
(`publisher plan NAME --patterns tests/plan/golden --json`).
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from publisher.model.plan import ChartPlan, Plan
from publisher.plan import make_plan, plan_as_json
from publisher.source import read_pattern

GOLDEN = Path(__file__).parent / "golden"
NAMES = sorted(path.stem for path in GOLDEN.glob("*.toml"))


def plan_of(name: str) -> Plan:
    return make_plan(read_pattern(GOLDEN / f"{name}.toml"))


def differences(kept: Any, made: Any, where: str = "plan") -> list[str]:
    """Where a plan is not as kept. Keys are stable, but more may be added."""
    if isinstance(kept, dict):
        return [
            line
            for key, value in kept.items()
            for line in differences(value, made.get(key, "missing"), f"{where}.{key}")
        ]
    if isinstance(kept, list) and isinstance(made, list) and len(kept) == len(made):
        pairs = enumerate(zip(kept, made, strict=True))
        return [line for at, (a, b) in pairs for line in differences(a, b, f"{where}[{at}]")]
    return [] if kept == made else [f"{where}: {kept!r} is now {made!r}"]


def starts(plan: ChartPlan) -> dict[str, tuple[int, int]]:
    return {y.id: (y.stretches[0].row, y.stretches[0].first_cord) for y in plan.yarns}


@pytest.mark.parametrize("name", NAMES)
def test_a_kept_plan_is_made_again(name: str) -> None:
    kept = json.loads((GOLDEN / f"{name}.plan.json").read_text(encoding="utf-8"))
    made = json.loads(json.dumps(plan_as_json(plan_of(name))))
    assert not differences(kept, made)


def test_notch_by_hand() -> None:
    """Cells of 8 x 6 mm, 50 mm a knot; carries up to 2 columns and 1 row.

    Row 1 runs to the right and goes on round the edge into row 2, cords 6 and 5: 8 knots. Then
    B at 4 and 3, and A at 2 and 1, round the edge into row 3, cord 1: 3 knots. B from 2 to 5;
    then A at 6, round the edge and back along row 4: 7 knots.

    From A's first run, which ends at row 2 cord 5, the second starts 3 columns off, too far; the
    third a column and a row off, 8 + 6 = 14 mm. From the second the third is 5 columns off. So
    A1 works 15 knots and A2 works 3. B goes from row 2 cord 3 to row 3 cord 2, 14 mm: B1.

    A working length of 700 mm reaches 700 / 1.1 = 636 mm, 436 without its tails: 8 knots. A1
    takes two; 7 or 8 knots in the first fit, and 8 with the carry (414 mm) is between runs, so
    the join is at row 3 cord 6. Used: 15 x 50 + 14 + 4 x 100 = 1164 mm. Cut: 700, and for
    7 knots and tails 550 x 1.1 = 605, so 650 mm. A2: (150 + 200) x 1.1 = 385, so 400. B1:
    (300 + 14 + 200) x 1.1 = 565.4, so 600.

    A folded cord: 5.25 x 12 + 10 x 3 + 2 x (24 x 1.03 + 100 + 20) = 382.44, x 1.1 = 420.7: 425.
    The dowel: 48 + 60, so 110. The loop: 1.2 x 110 + 2 x (pi x 15 + 30.3 + 50) = 386.9: 400.
    In all 6 x 425 + 400 + 700 + 650 + 400 = 4.7 m of A: 5 m, 21.15 g, so 22.

    Ends, in working order: 1 A1 starts (1, 1); 2 B1 starts (2, 4); 3 A2 starts (2, 2);
    4 A2 finishes (3, 1); 5 B1 finishes (3, 5); 6 and 7 A1's join (3, 6); 8 A1 finishes (4, 1).
    Tied: 6 to 7 (0 mm), 4 to 8 (6), 1 to 3 (10), 2 to 5 (10).
    """
    plan = plan_of("notch")
    (chart,) = plan.charts
    found = [(y.id, y.knots, y.length_mm, y.carried_mm, y.cut_lengths_mm) for y in chart.yarns]
    assert found == [
        ("A1", 15, 1164.0, 14.0, (700.0, 650.0)),
        ("B1", 6, 514.0, 14.0, (600.0,)),
        ("A2", 3, 350.0, 0.0, (400.0,)),
    ]
    assert [(spot.row, spot.cord) for spot in chart.yarns[0].joins] == [(3, 6)]
    notes = [note for row in chart.row_list for note in row.notes]
    cut = [(note.kind, note.yarn, note.cut_mm) for note in notes if note.cut_mm is not None]
    assert cut == [
        ("start", "A1", 700.0),
        ("start", "B1", 600.0),
        ("start", "A2", 400.0),
        ("join", "A1", 650.0),
    ]
    assert chart.full_length_mm == 700.0
    assert {cord.length_mm for cord in chart.hanging_cords} == {425.0}
    assert (chart.dowel_length_mm, chart.hanging_loop_mm) == (110.0, 400.0)
    assert (plan.shopping[0].length_m, plan.shopping[0].mass_g) == (5, 22)
    places = [(end.row, end.cord) for end in chart.ends]
    assert places == [(1, 1), (2, 4), (2, 2), (3, 1), (3, 5), (3, 6), (3, 6), (4, 1)]
    assert chart.end_pairs == (("e1", "e3"), ("e2", "e5"), ("e4", "e8"), ("e6", "e7"))
    assert not chart.single_ends


def test_one_way_by_hand() -> None:
    """Every row from the right; carries stay in their row. Cords of 2 mm, single; yarns 2 and 4.

    Pitch 0.9 x (2 + 2.2 x 4) = 9.72 mm, height 0.9 x 3 x 4 = 10.8 mm, by the thicker yarn.
    A knot round one 2 mm cord: of K 2 pi (2 + 2) + 6.65 x 2 = 38.43; of Y 2 pi (2 + 4) + 26.6 =
    64.30 mm.

    Row 1: K at 5, 3, 1 and Y at 4, 2, each two columns on: one yarn each. Row 2: K at 5, 4, over
    the Y at 3 to 2, 1. Row 3: Y at 5 and at 1 are four columns apart: two yarns.
    K1: 3 x 38.43 + 2 x 2 x 9.72 + 160 = 314.2 mm.

    Five columns of single strands hang from three folded cords, the last with a leg to spare.
    The fringe is a point: 40, 60, 80, 60, 40; cords are cut for the longer of their two legs, and
    for rows of hard cord, 3 x 4 = 12 mm high.
    """
    plan = plan_of("one-way")
    (chart,) = plan.charts
    assert chart.yarn_mm_per_knot == pytest.approx({"K": 38.433, "Y": 64.299}, abs=1e-3)
    assert (chart.cell.width_mm, chart.cell.height_mm) == pytest.approx((9.72, 10.8))
    assert starts(chart) == {
        "K1": (1, 5),
        "Y1": (1, 4),
        "K2": (2, 5),
        "Y2": (2, 3),
        "Y3": (3, 5),
        "K3": (3, 4),
        "Y4": (3, 1),
    }
    assert chart.yarns[0].length_mm == pytest.approx(314.18, abs=0.01)
    assert chart.fringe_mm == (40, 60, 80, 60, 40)
    assert [cord.columns for cord in chart.hanging_cords] == [(1, 2), (3, 4), (5,)]
    mount = 5.25 * 12 + 10 * 2
    needs = [mount + 2 * (3 * 12 * 1.03 + fringe + 20) for fringe in (60, 80, 40)]
    assert [cord.length_mm for cord in chart.hanging_cords] == [320.0, 360.0, 280.0]
    assert all(
        need <= cord.length_mm < need + 5
        for need, cord in zip(needs, chart.hanging_cords, strict=True)
    )
    assert {line.count % 2 for line in plan.cutting_list} == {0}


def test_tide_lines_by_hand() -> None:
    """24 x 30 knots, three colours, 67 runs; carries up to 6 columns and 2 rows: nine yarns.

    C: one yarn comes down to row 4, where the sun parts it. From (4, 16) both the left side,
    (4, 11), and the right, (5, 18), are in reach; one must start anew. Going on to the right,
    2 columns and a row, carries less than 5 columns to the left: C2 starts at (4, 11). No C in
    row 17. At (18, 24) the ends at (15, 20) and (16, 7) are three rows and 17 columns off: C3.
    From (16, 7) C2 goes on to (18, 3). At (24, 1) the nearest end, (22, 9), is 8 columns off: C4.
    D: (14, 24) and (14, 1) are 22 columns apart: D1 and D2, and two are enough to the end.
    S: the sun is one yarn, to (18, 11). (20, 24) is 13 columns off: S2. (27, 1) is 15 columns
    from (26, 16): S3, three knots; at (27, 13) S2 goes on.

    Yarn of 4 mm round two strands of 4 mm: 2 x (8 pi + 8) + 6.65 x 4 = 92.87 mm a knot. A length
    reaches 3000 / 1.1 - 200 = 2527.3 mm: 27 knots without carries. S3 has 3, C4 15: one length
    each. C3's 43 take two, D2's 57 three, D1's 87 four; C2's 120 five, C1's 137 six; S2's 114
    five, S1's 144 six. 33 lengths have 66 ends.
    """
    (chart,) = plan_of("tide-lines").charts
    assert starts(chart) == {
        "C1": (1, 1),
        "S1": (4, 15),
        "C2": (4, 11),
        "D1": (14, 24),
        "D2": (14, 1),
        "C3": (18, 24),
        "S2": (20, 24),
        "C4": (24, 1),
        "S3": (27, 1),
    }
    assert chart.yarn_mm_per_knot["C"] == pytest.approx(92.87, abs=0.01)
    assert chart.knots == {"D": 144, "S": 261, "C": 315}
    assert {y.id: len(y.cut_lengths_mm) for y in chart.yarns} == {
        "C1": 6,
        "S1": 6,
        "C2": 5,
        "D1": 4,
        "D2": 3,
        "C3": 2,
        "S2": 5,
        "C4": 1,
        "S3": 1,
    }
    assert len(chart.ends) == 2 * 33
