"""Write a plan as the stable keys of `plan.json`."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from publisher.model.plan import (
    Advice,
    BuyLine,
    ChartPlan,
    CutLine,
    HangingCord,
    Note,
    Plan,
    Row,
    RowHeights,
    Spot,
    YarnRoute,
)
from publisher.plan.parts.as_json import assembly_as_json, part_as_json

Json = dict[str, Any]


def plan_as_json(plan: Plan) -> Json:
    """The plan as plain dicts, lists, strings and numbers; lengths in mm to a thousandth."""
    return {
        "slug": plan.slug,
        "title": plan.title,
        "version": plan.version,
        "pieces": [
            _piece(piece) if isinstance(piece, ChartPlan) else part_as_json(piece)
            for piece in plan.pieces
        ],
        "cutting_list": [_cut(line) for line in plan.cutting_list],
        "shopping": [_buy(line) for line in plan.shopping],
        "cautions": list(plan.cautions),
        "knot_names": list(plan.knot_names),
        "finished_mass_g": _mm(plan.finished_mass_g),
        "masses_g": {piece: _mm(mass) for piece, mass in plan.masses_g.items()},
        "assembly": [assembly_as_json(step) for step in plan.assembly],
        "free_cord_mm": _mm(plan.free_cord_mm),
        "advice": [_advice(advice) for advice in plan.advice],
    }


def _mm(value: float) -> float:
    return round(value, 3)


def _piece(chart: ChartPlan) -> Json:
    return {
        "id": chart.id,
        "kind": chart.kind,
        "make": chart.make,
        "columns": chart.columns,
        "rows": chart.rows,
        "size_mm": {"width": _mm(chart.width_mm), "height": _mm(chart.height_mm)},
        "cell_mm": {
            "width": _mm(chart.cell.width_mm),
            "height": _mm(chart.cell.height_mm),
            "measured": chart.cell.measured,
        },
        "yarn_mm_per_knot": {key: _mm(mm) for key, mm in chart.yarn_mm_per_knot.items()},
        "knots": dict(chart.knots),
        "row_list": [_row(row) for row in chart.row_list],
        "yarns": [_yarn(yarn) for yarn in chart.yarns],
        "ends": [
            {"id": end.id, "yarn": end.yarn, "kind": end.kind, "row": end.row, "cord": end.cord}
            for end in chart.ends
        ],
        "end_pairs": [list(pair) for pair in chart.end_pairs],
        "single_ends": list(chart.single_ends),
        "row_heights_mm": _heights(chart.row_heights),
        "hanging_cords": [_hanging(cord) for cord in chart.hanging_cords],
        "fringe_mm": [_mm(length) for length in chart.fringe_mm],
        "tail_mm": _mm(chart.piece.tail_mm),
        "full_length_mm": _mm(chart.full_length_mm),
        "allowance_percent": chart.piece.allowance_percent,
        "work_seconds": chart.work_seconds,
        "dowel_mm": {
            "length": _mm(chart.dowel_length_mm),
            "diameter": _mm(chart.piece.mount.diameter_mm),
        },
    }


def _row(row: Row) -> Json:
    return {
        "row": row.row,
        "from": row.start,
        "runs": [
            {
                "colour": run.colour,
                "knots": run.knots,
                "first_cord": run.first_cord,
                "last_cord": run.last_cord,
            }
            for run in row.runs
        ],
        "notes": [_note(note) for note in row.notes],
    }


def _note(note: Note) -> Json:
    found: Json = {"kind": note.kind, "yarn": note.yarn, "cord": note.cord}
    if note.kind == "pick-up":
        found["behind"] = list(note.behind) if note.behind else None
        found["rows_down"] = note.rows_down
        found["told"] = note.told
    if note.cut_mm is not None:
        found["cut_length_mm"] = _mm(note.cut_mm)
    return found


def _yarn(yarn: YarnRoute) -> Json:
    return {
        "id": yarn.id,
        "colour": yarn.colour,
        "knots": yarn.knots,
        "length_mm": _mm(yarn.length_mm),
        "stretches": [
            {
                "row": stretch.row,
                "first_cord": stretch.first_cord,
                "last_cord": stretch.last_cord,
                "knots": stretch.knots,
            }
            for stretch in yarn.stretches
        ],
        "carries": [
            {
                "from": _spot(carry.origin),
                "to": _spot(carry.target),
                "length_mm": _mm(carry.length_mm),
            }
            for carry in yarn.carries
        ],
        "joins": [_spot(spot) for spot in yarn.joins],
        "cut_lengths_mm": [_mm(length) for length in yarn.cut_lengths_mm],
        "left_over_mm": _mm(yarn.left_over_mm),
    }


def _spot(spot: Spot) -> Json:
    return {"row": spot.row, "cord": spot.cord}


def _heights(heights: RowHeights | None) -> Json | None:
    if heights is None:
        return None
    return {
        "least": _mm(heights.least_mm),
        "planned": _mm(heights.planned_mm),
        "most": _mm(heights.most_mm),
    }


def _hanging(cord: HangingCord) -> Json:
    return {
        "columns": list(cord.columns),
        "length_mm": _mm(cord.length_mm),
        "fringe_mm": _mm(cord.fringe_mm),
    }


def _cut(line: CutLine) -> Json:
    return {
        "piece": line.piece,
        "for": line.purpose,
        "colour": line.colour,
        "count": line.count,
        "length_mm": _mm(line.length_mm),
    }


def _buy(line: BuyLine) -> Json:
    return {
        "colour": line.colour,
        "yarn": line.yarn,
        "length_m": line.length_m,
        "mass_g": line.mass_g,
        "balls": line.balls,
        "price": line.price,
        "left_m": None if line.left_m is None else _mm(line.left_m),
        "length_yd": line.length_yd,
        "mass_oz": _mm(line.mass_oz),
    }


def _advice(advice: Advice) -> Json:
    values: Mapping[str, str | int | float] = advice.values
    return {
        "code": advice.code,
        "piece": advice.piece,
        "row": advice.row,
        "cord": advice.cord,
        "values": dict(values),
    }
