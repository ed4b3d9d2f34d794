"""Turn one chart piece into its plan."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from dataclasses import replace

from publisher.errors import Place
from publisher.model.pattern import CarryLimit, ChartPiece, Pattern
from publisher.model.plan import ChartPlan, YarnRoute
from publisher.plan.back.ends import list_ends, pair_ends
from publisher.plan.cord import cell_size, chart_hitch, knot_yarn, row_heights
from publisher.plan.lists.hanging import dowel_length, fringe_lengths, hanging_cords, hanging_loop
from publisher.plan.routing.routes import find_chains
from publisher.plan.routing.yarns import YarnRules, name_yarns
from publisher.plan.rows.notes import write_notes
from publisher.plan.rows.working_order import WorkingRow, read_passages, read_rows


def plan_chart(piece: ChartPiece, pattern: Pattern) -> ChartPlan:
    """The plan of one chart piece: sizes, rows, routes, ends and cords."""
    counts = Counter("".join(piece.cells))
    cord_mm = pattern.colour(piece.cords.colour).yarn.diameter_mm
    rules = yarn_rules(piece, pattern, counts)
    cell = rules.cell
    yarns_mm = [pattern.colour(letter).yarn.diameter_mm for letter in counts]
    heights = row_heights(piece.gauge, chart_hitch(piece.knot), yarns_mm)
    row_mm = heights.planned_mm if heights else cell.height_mm
    rows = read_rows(piece.cells, piece.first_row_from, piece.order)
    yarns = route_yarns(piece, rows, carry_limits(piece, pattern), rules)
    ends = list_ends(yarns, [row.start for row in rows])
    pairs = pair_ends(ends, cell)
    width_mm = piece.columns * cell.width_mm
    fringe_mm = fringe_lengths(piece.fringe, piece.columns, cell.width_mm)
    dowel_mm = dowel_length(width_mm)
    seconds = piece.seconds_per_knot
    return ChartPlan(
        piece=replace(piece, place=Place("")),
        cell=cell,
        row_heights=heights,
        yarn_mm_per_knot=rules.knot_mm,
        width_mm=width_mm,
        height_mm=piece.rows * cell.height_mm,
        knots={letter: counts[letter] for letter in rules.knot_mm},
        row_list=write_notes(rows, yarns, cell),
        yarns=yarns,
        ends=ends,
        end_pairs=pairs.pairs,
        single_ends=pairs.singles,
        hanging_cords=hanging_cords(piece, row_mm, fringe_mm, cord_mm),
        fringe_mm=fringe_mm,
        full_length_mm=rules.full_length_mm,
        dowel_length_mm=dowel_mm,
        hanging_loop_mm=hanging_loop(dowel_mm, piece.mount.diameter_mm, cord_mm),
        work_seconds=None if seconds is None else seconds * counts.total(),
    )


def yarn_rules(piece: ChartPiece, pattern: Pattern, counts: Mapping[str, int]) -> YarnRules:
    """Sizes and lengths of a piece's knots, for the colours that its chart has."""
    diameters = {
        colour.letter: colour.yarn.diameter_mm
        for colour in pattern.colours
        if colour.letter in counts
    }
    gauge, strands, hitch = piece.gauge, piece.cords.strands, chart_hitch(piece.knot)
    cord_mm = pattern.colour(piece.cords.colour).yarn.diameter_mm
    return YarnRules(
        cell=cell_size(gauge, hitch, strands, cord_mm, diameters.values()),
        knot_mm={
            letter: knot_yarn(gauge, hitch, strands, cord_mm, diameter_mm)
            for letter, diameter_mm in diameters.items()
        },
        working_length_mm=piece.working_length_mm,
        tail_mm=piece.tail_mm,
        allowance_percent=piece.allowance_percent,
    )


def carry_limits(piece: ChartPiece, pattern: Pattern) -> dict[str, CarryLimit]:
    """Return how far each colour may be carried: its own limit, or the piece's."""
    return {colour.letter: colour.carry or piece.carry for colour in pattern.colours}


def route_yarns(
    piece: ChartPiece,
    rows: tuple[WorkingRow, ...],
    limits: Mapping[str, CarryLimit],
    rules: YarnRules,
) -> tuple[YarnRoute, ...]:
    """Every yarn of a piece, in order of its start."""
    passages = read_passages(rows, piece.order)
    return name_yarns(passages, find_chains(passages, limits, rules.cell, piece.order), rules)


def count_yarns(piece: ChartPiece, pattern: Pattern) -> int:
    """Return as many as `make_plan` finds for the piece: each has a start and a finish."""
    counts = Counter("".join(piece.cells))
    cell = yarn_rules(piece, pattern, counts).cell
    passages = read_passages(read_rows(piece.cells, piece.first_row_from, piece.order), piece.order)
    return len(find_chains(passages, carry_limits(piece, pattern), cell, piece.order))
