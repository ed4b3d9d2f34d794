"""Turn a pattern into its working plan."""

from __future__ import annotations

from collections import Counter

from publisher.plan.cautions import find_cautions, finished_mass, knot_names
from publisher.plan.cord import cell_size, knot_yarn
from publisher.plan.cutting import cutting_list
from publisher.plan.ends import list_ends, pair_ends
from publisher.plan.hanging import dowel_length, fringe_lengths, hanging_cords, hanging_loop
from publisher.plan.notes import write_notes
from publisher.plan.routes import find_chains
from publisher.plan.rows import read_passages, read_rows
from publisher.plan.shopping import shopping_list
from publisher.plan.values import ChartPlan, Plan
from publisher.plan.yarns import YarnRules, name_yarns
from publisher.source.pattern import ChartPiece, Pattern


def make_plan(pattern: Pattern) -> Plan:
    """The whole plan of a pattern: every number that is printed anywhere."""
    pieces = tuple(plan_chart(piece, pattern) for piece in pattern.pieces)
    cutting = cutting_list(pieces, pattern.colours)
    yarns = {colour.letter: colour.yarn for colour in pattern.colours}
    masses = [finished_mass(piece, yarns) for piece in pieces]
    return Plan(
        slug=pattern.slug,
        title=pattern.title,
        version=pattern.version,
        colours=pattern.colours,
        pieces=pieces,
        cutting_list=cutting,
        shopping=shopping_list(cutting, pattern.colours),
        finished_mass_g=sum(m * p.make for m, p in zip(masses, pieces, strict=True)),
        cautions=find_cautions(pieces, max(masses, default=0.0)),
        knot_names=knot_names(pieces),
        advice=(),
    )


def plan_chart(piece: ChartPiece, pattern: Pattern) -> ChartPlan:
    """The plan of one chart piece."""
    counts = Counter("".join(piece.cells))
    used = [colour for colour in pattern.colours if colour.letter in counts]
    cord_mm = pattern.colour(piece.cords.colour).yarn.diameter_mm
    strands = piece.cords.strands
    diameters = {colour.letter: colour.yarn.diameter_mm for colour in used}
    cell = cell_size(piece.gauge, strands, cord_mm, diameters.values())
    knot_mm = {
        letter: knot_yarn(piece.gauge, strands, cord_mm, diameter_mm)
        for letter, diameter_mm in diameters.items()
    }
    rules = YarnRules(
        cell, knot_mm, piece.working_length_mm, piece.tail_mm, piece.allowance_percent
    )
    rows = read_rows(piece.cells, piece.first_row_from, piece.order)
    passages = read_passages(rows, piece.order)
    limits = {colour.letter: colour.carry or piece.carry for colour in used}
    yarns = name_yarns(passages, find_chains(passages, limits, cell, piece.order), rules)
    ends = list_ends(yarns, [row.start for row in rows])
    pairs = pair_ends(ends, cell)
    width_mm = piece.columns * cell.width_mm
    fringe_mm = fringe_lengths(piece.fringe, piece.columns, cell.width_mm)
    dowel_mm = dowel_length(width_mm)
    return ChartPlan(
        id=piece.id,
        make=piece.make,
        columns=piece.columns,
        rows=piece.rows,
        cells=piece.cells,
        cell=cell,
        yarn_mm_per_knot=knot_mm,
        width_mm=width_mm,
        height_mm=piece.rows * cell.height_mm,
        knots={letter: counts[letter] for letter in diameters},
        row_list=write_notes(rows, yarns),
        yarns=yarns,
        ends=ends,
        end_pairs=pairs.pairs,
        single_ends=pairs.singles,
        hanging_cords=hanging_cords(piece, cell, fringe_mm, cord_mm),
        fringe_mm=fringe_mm,
        fringe_shape=piece.fringe.shape,
        first_row_from=piece.first_row_from,
        order=piece.order,
        knot=piece.knot,
        mount=piece.mount,
        cord_colour=piece.cords.colour,
        cord_strands=strands,
        tail_mm=piece.tail_mm,
        allowance_percent=piece.allowance_percent,
        dowel_length_mm=dowel_mm,
        hanging_loop_mm=hanging_loop(dowel_mm, piece.mount.diameter_mm, cord_mm),
    )
