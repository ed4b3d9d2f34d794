"""A maker who reads what is printed, and follows it, works the plan: every yarn, every length."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.layout import lay_out_bench, lay_out_text
from publisher.model.pattern import CarryLimit, Gauge, Pattern
from publisher.model.plan import ChartPlan, Plan
from publisher.plan import make_plan, plan_as_json
from publisher.press import print_book
from publisher.source.mirror import for_left_hand
from publisher.templates import Templates
from tests.support.grids import ORDERS, SEVEN_BY_FIVE, SIDES, charts, pattern_of
from tests.support.maker import Maker
from tests.support.printed import opened
from tests.support.shop import (
    SLUGS,
    book,
    demo,
    demo_pdf,
    demo_plan,
    installed,
    manuscript,
    with_files,
)
from tests.support.told_chart import Mark, read_charts
from tests.support.told_rows import (
    Act,
    ToldPiece,
    bare,
    millimetres,
    rows_in_pdf,
    rows_in_text,
    rows_on_bench,
)

NARROW = Gauge(columns=1, width_mm=4.0, rows=1, height_mm=14.0, yarn_mm_per_knot=60.0)


def worked(chart: ChartPlan, told: ToldPiece, *, brief: bool = False) -> Maker:
    """A maker who has worked a piece by what she was told; all that she did is what was planned."""
    maker = Maker(
        chart.cell.width_mm, chart.cell.height_mm, chart.yarn_mm_per_knot, chart.piece.tail_mm
    )
    assert told.unnamed, "she must be told what to do where no yarn is named"
    rows = [act.row for row in told.rows for act in row.acts if act.row]
    assert told.named_row in rows if rows else not told.named_row, "or what naming a row means"
    maker.work(told)
    assert maker.cloth == list(chart.cells)
    assert set(maker.yarns) == {yarn.id for yarn in chart.yarns}
    spare = 1 + chart.piece.allowance_percent / 100
    for planned in chart.yarns:
        yarn = maker.yarns[planned.id]
        assert yarn.cells == list(cells_of(planned.stretches))
        assert yarn.joins == [(spot.row, spot.cord) for spot in planned.joins]
        assert yarn.carries == [
            ((one.origin.row, one.origin.cord), (one.target.row, one.target.cord))
            for one in planned.carries
        ]
        assert [length.cut_mm for length in yarn.lengths] == list(planned.cut_lengths_mm)
        for length in yarn.lengths:
            assert length.planned_mm * spare <= length.cut_mm + 1e-6
            assert length.straight_mm <= length.cut_mm
    for act in (act for row in told.rows for act in row.acts):
        if act.kind != "pick up" and not brief:
            assert millimetres(act.tail) == chart.piece.tail_mm, act
    return maker


def cells_of(stretches: Any) -> Iterator[tuple[int, int]]:
    for one in stretches:
        step = 1 if one.last_cord >= one.first_cord else -1
        yield from ((one.row, cord) for cord in range(one.first_cord, one.last_cord + step, step))


def check_marks(pdf: bytes, plan: Plan, pieces: list[ToldPiece]) -> None:
    """The charts mark what the words tell: nothing more, nothing less, and in the same places.

    Where a yarn is picked up and joined at once, there is room for the join alone.
    """
    tiles = read_charts(pdf, max(chart.columns for chart in plan.charts))
    shares = [tiles] if len(plan.charts) == 1 else [[tile] for tile in tiles]
    for told, share in zip(pieces, shares, strict=True):
        rows = {row: start for tile, _ in share for row, (_, start, _) in tile.rows.items()}
        assert rows == {row.row: row.start for row in told.rows}
        acts = {(row.row, act.cord, act.kind) for row in told.rows for act in row.acts}
        joins = {(row, cord) for row, cord, kind in acts if kind == "join"}
        assert {(mark.row, mark.cord, mark.kind) for _, marks in share for mark in marks} == {
            (row, cord, kind)
            for row, cord, kind in acts
            if kind != "pick up" or (row, cord) not in joins
        }


LEGEND = {
    "start": "a yarn starts",
    "join": "a new length joins",
    "pick up": "a yarn is picked up",
    "leave": "left at the back",
}


def check_legend(pdf: bytes, columns: int) -> None:
    """Under a chart stand those marks that it has."""
    kinds = {mark.kind for _, marks in read_charts(pdf, columns) for mark in marks}
    with opened(pdf) as document:
        text = " ".join(page.get_textpage().get_text_range() for page in document)
    assert kinds == {kind for kind, words in LEGEND.items() if words in text}


def check_bench(pieces: list[ToldPiece], page: str) -> None:
    """The page to work from tells the same rows, each note at the run that has its cord."""
    assert rows_on_bench(page) == pieces


@cache
def work_edition() -> Templates:
    """The installed templates with an edition that has what a maker works from, and no more."""
    words = installed().files["words/en.toml"].text
    link = "([page {page}](#knot-vertical-double-half-hitch))"
    head = 'key_lead = "each cell is one {knot}'
    assert f"{head} {link}" in words
    editions = {
        "work": 'sections = ["chart", "rows"]',
        "brief": 'sections = ["rows"]\nrows_in_brief = true',
        "text": 'form = "text"\nsections = ["rows"]',
        "bench": 'form = "bench"\nsections = ["chart", "rows"]',
    }
    files = {
        f"editions/{name}.toml": f'title = "Work"\n{text}\n' for name, text in editions.items()
    }
    return with_files({**files, "words/en.toml": words.replace(f"{head} {link}", head)})


def work_from_all(pattern: Pattern) -> list[Maker]:
    """Work a pattern from its PDF, its plain text, its page for the bench, and in brief."""
    templates, plan = work_edition(), make_plan(pattern)
    pdf = print_book(book(pattern, "work", templates=templates))
    pieces = rows_in_pdf(pdf)
    check_marks(pdf, plan, pieces)
    if len(plan.charts) == 1:
        check_legend(pdf, plan.charts[0].columns)
    assert rows_in_text(lay_out_text(manuscript(pattern, "text", templates=templates))) == pieces
    bench = lay_out_bench(manuscript(pattern, "bench", templates=templates), templates)
    check_bench(pieces, bench)
    names = ["Panel", "Wing"] if len(plan.charts) > 1 else [""]
    assert [piece.name for piece in pieces] == names
    in_brief = rows_in_pdf(print_book(book(pattern, "brief", templates=templates)))
    for chart, told in zip(plan.charts, in_brief, strict=True):
        worked(chart, told, brief=True)
    return [worked(chart, told) for chart, told in zip(plan.charts, pieces, strict=True)]


@st.composite
def shapes(draw: st.DrawFn) -> list[str]:
    """Two colours parted by lines that wander from row to row, as the edges of pictures do."""
    columns = draw(st.integers(5, 14))
    edges = draw(st.lists(st.integers(0, columns), min_size=2, max_size=4))
    cells = []
    for _ in range(draw(st.integers(3, 9))):
        edges = [min(max(edge + draw(st.integers(-2, 2)), 0), columns) for edge in edges]
        marks = [0, *sorted(edges), columns]
        runs = ((stop - start) * "NR"[at % 2] for at, (start, stop) in enumerate(pairwise(marks)))
        cells.append("".join(runs))
    return cells


@settings(max_examples=60, derandomize=True)
@given(
    shapes() | charts(6, 8, "NRW"),
    SIDES,
    ORDERS,
    st.builds(CarryLimit, st.integers(0, 9), st.integers(0, 4), st.booleans()),
    st.sampled_from([SEVEN_BY_FIVE, NARROW, Gauge()]),
    st.sampled_from([700.0, 3000.0]),
    st.booleans(),
    st.booleans(),
)
def test_whatever_the_chart(
    cells: list[str],
    side: Any,
    order: Any,
    limit: CarryLimit,
    gauge: Gauge,
    working_mm: float,
    left_hand: bool,
    again: bool,
) -> None:
    """`again`: the same piece once more, turned upside down."""
    changes = {"first_row_from": side, "order": order, "carry": limit, "gauge": gauge}
    pattern = pattern_of(*cells, working_length_mm=working_mm, **changes)
    if again:
        (piece,) = pattern.pieces
        other = replace(piece, id="wing", cells=piece.cells[::-1])
        pattern = replace(pattern, pieces=(piece, other))
    work_from_all(for_left_hand(pattern) if left_hand else pattern)


TWO_IN_A_GAP = ("NNRRRRRRR", "RRNNNNRRN", "RRNNNNRRN", "NNRRRRRRR", "NNRRRRRRR")


def test_of_two_yarns_in_one_gap_the_right_one_is_named() -> None:
    """In row 3, N1 hangs from row 1 where N2 hangs from row 2: the nearer one is not meant."""
    pattern = pattern_of(*TWO_IN_A_GAP, carry=CarryLimit(6, 2))
    templates = work_edition()
    pdf = print_book(book(pattern, "work", templates=templates))
    (told,) = rows_in_pdf(pdf)
    assert told.rows[2].acts[0] == Act("pick up", "N1", 3, row=1)
    ((_, marks),) = read_charts(pdf, 9)
    assert Mark(3, 3, "pick up") in marks
    (maker,) = work_from_all(pattern)
    assert maker.yarns["N1"].carries[0] == ((1, 2), (3, 3))


def test_where_yarns_hang_ready_nothing_is_told_or_marked() -> None:
    """A waits right above where row 2 wants it; the legend has no sign that the chart has not."""
    (maker,) = work_from_all(pattern_of("AAB", "AAB"))
    assert maker.unnamed == 1
    assert maker.yarns["A1"].carries == [((1, 2), (2, 2))]


def test_a_join_takes_the_place_of_a_pick_up_on_the_chart_and_in_its_legend() -> None:
    (maker,) = work_from_all(pattern_of("AAAAAABBAAAAAA", working_length_mm=730.0))
    assert maker.yarns["A1"].carries == [((1, 6), (1, 9))]
    assert maker.yarns["A1"].joins == [(1, 9)]


def test_a_maker_who_is_told_less_stops() -> None:
    """Each pick-up that is told is needed: without its note, or its row, no chart comes of it."""
    pattern = pattern_of(*TWO_IN_A_GAP, carry=CarryLimit(6, 2))
    (chart,) = make_plan(pattern).charts
    (told,) = rows_in_text(lay_out_text(manuscript(pattern, "text", templates=work_edition())))
    notes = [(row, act) for row in told.rows for act in row.acts if act.kind == "pick up"]
    assert len(notes) == 8
    for row, act in notes:
        fewer = tuple(other for other in row.acts if other is not act)
        vaguer = tuple(replace(one, row=None) if one is act else one for one in row.acts)
        for acts in (fewer, *([vaguer] if act.row else [])):
            less = replace(row, acts=acts)
            rows = [less if one is row else one for one in told.rows]
            with pytest.raises(AssertionError):
                worked(chart, replace(told, rows=rows))


@pytest.mark.parametrize("slug", SLUGS)
def test_the_demo_catalogue(slug: str) -> None:
    plan, pdf = demo_plan(slug), demo_pdf(slug)
    pieces = rows_in_pdf(pdf)
    check_marks(pdf, plan, pieces)
    makers = [worked(chart, told) for chart, told in zip(plan.charts, pieces, strict=True)]
    assert sum(maker.unnamed for maker in makers) > 15, "most pick-ups need no words"
    assert rows_in_text(lay_out_text(manuscript(demo(slug), "plain-text"))) == pieces
    page = lay_out_bench(manuscript(demo(slug), "at-the-bench"), installed())
    check_bench(pieces, page)
    for piece, told in zip(plan_as_json(plan)["pieces"], pieces, strict=False):
        for row, printed in zip(piece["row_list"], told.rows, strict=True):
            notes = [note for note in row["notes"] if note.get("told", True)]
            assert [
                (note["yarn"], note["cord"], note["kind"].replace("-", " ")) for note in notes
            ] == [(act.yarn, act.cord, act.kind) for act in printed.acts]


@pytest.mark.parametrize("slug", SLUGS)
def test_the_first_yarn_is_told_before_row_1_as_in_it(slug: str) -> None:
    """Where it starts, how long it is, which way the rows go."""
    text = " ".join(lay_out_text(manuscript(demo(slug), "plain-text")).split())
    (told,) = rows_in_text(lay_out_text(manuscript(demo(slug), "plain-text")))
    begin = re.search(
        r"Start at the (left|right), at cord (\d+), with (\S+ cm) of ([^:]+): yarn (\S+)\. "
        r"Leave (\S+ cm) at the back\. Row 1 goes to the (left|right), and row 2 comes back\.",
        text,
    )
    assert begin
    side, cord, length, colour, yarn, tail, other = begin.groups()
    first, second = told.rows[:2]
    assert (side, other) == (first.start, second.start)
    start = first.acts[0]
    assert (start.kind, start.cord, start.yarn) == ("start", int(cord), yarn)
    assert (start.length or told.full, start.tail) == (bare(length), bare(tail))
    letters = {colour.name: colour.letter for colour in demo(slug).colours}
    assert letters[colour] == first.runs[0][1]


@pytest.mark.parametrize("edition", ["left-handed", "handout", "large-print", "ink-saver"])
def test_every_edition_on_paper(edition: str) -> None:
    slug = "heron-step"
    plan = demo_plan(slug, "left" if edition == "left-handed" else "right")
    pdf = demo_pdf(slug, edition)
    pieces = rows_in_pdf(pdf)
    check_marks(pdf, plan, pieces)
    for chart, told in zip(plan.charts, pieces, strict=True):
        worked(chart, told, brief=edition == "handout")


@settings(max_examples=25)
@given(charts(4, 8, "NR"), st.floats(600.0, 3000.0))
def test_no_yarn_is_told_shorter_than_it_is_planned_where_inches_come_first(
    cells: list[str], working_mm: float
) -> None:
    """Nor a quarter of an inch longer than the next one up."""
    pattern = replace(pattern_of(*cells, working_length_mm=working_mm), units="inch-first")
    (chart,) = make_plan(pattern).charts
    (told,) = rows_in_text(lay_out_text(manuscript(pattern, "text", templates=work_edition())))
    acts = [act for row in told.rows for act in row.acts if act.kind in ("start", "join")]
    cut = [note for row in chart.row_list for note in row.notes if note.kind in ("start", "join")]
    for act, note in zip(acts, cut, strict=True):
        planned_mm = chart.full_length_mm if note.cut_mm is None else note.cut_mm
        assert 0 <= millimetres(act.length or told.full) - planned_mm < 25.4 / 4, act
