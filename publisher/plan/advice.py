"""Look over a planned piece for what a writer may want to change: advice, never errors."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence

from publisher.model.pattern import CarryLimit, ChartPiece, YarnColour
from publisher.model.plan import Advice, Carry, ChartPlan
from publisher.plan.proportion import other_proportion
from publisher.plan.similar_colours import alike_neighbours

Values = dict[str, str | int | float]

FEW_KNOTS = 3
LISTED_SINGLES = 12
"""Single knots are told one by one up to this many; more are told once."""
ENDS_PER_DM2 = 2.0
"""Starts and finishes only: joins come with the length of a yarn, not with the picture."""
DM_MM = 100.0
LIGHTEST, HEAVIEST = 0.3, 0.9
"""Grams a metre over the square of a cotton cord's diameter in mm (from memory)."""


def advise(plan: ChartPlan, piece: ChartPiece, colours: Sequence[YarnColour]) -> tuple[Advice, ...]:
    """Everything about one piece that is worth a look, each with its place."""
    used = [colour for colour in colours if colour.letter in plan.knots]
    limits = {colour.letter: colour.carry or piece.carry for colour in used}
    return (
        *_few_knots(plan, used),
        *_single_knots(plan),
        *_carries_at_limit(plan, used, limits),
        *_many_ends(plan),
        *alike_neighbours(plan, used),
        *_cords(plan, piece, used),
        *(other_proportion(plan, piece.pixel_proportion) if piece.pixel_proportion else ()),
        *_long_lengths(plan, piece.working_length_mm),
    )


def unused_colours(colours: Iterable[YarnColour], cut: Collection[str]) -> Iterator[Advice]:
    """Tell the colours that nothing is cut from. `cut`: the letters of all others."""
    for colour in colours:
        if colour.letter not in cut:
            yield Advice(
                "unused-colour", "", None, None, {**_named(colour), "colour_key": colour.letter}
            )


def _few_knots(plan: ChartPlan, used: Sequence[YarnColour]) -> Iterator[Advice]:
    for colour in used:
        knots = plan.knots[colour.letter]
        if knots < FEW_KNOTS:
            values: Values = {**_named(colour), "knots": knots, "few": FEW_KNOTS}
            yield Advice("few-knots", plan.id, *first_cell(plan, colour.letter), values)


def first_cell(plan: ChartPlan, letter: str) -> tuple[int, int]:
    """Row and cord of a colour's first cell, read from the top left."""
    for row, cells in enumerate(plan.cells, start=1):
        if letter in cells:
            return row, cells.index(letter) + 1
    raise KeyError(letter)


def _named(colour: YarnColour) -> dict[str, str]:
    return {"colour": colour.letter, "name": colour.name}


def _single_knots(plan: ChartPlan) -> Iterator[Advice]:
    singles = sorted(_alone(plan))
    if len(singles) > LISTED_SINGLES:
        row, cord = singles[0]
        yield Advice("many-single-knots", plan.id, row, cord, {"knots": len(singles)})
        return
    for row, cord in singles:
        letter = plan.cells[row - 1][cord - 1]
        yield Advice("single-knot", plan.id, row, cord, {"colour": letter})


def _alone(plan: ChartPlan) -> Iterator[tuple[int, int]]:
    """Cells with none of their colour among the eight around them."""
    for row in plan.row_list:
        near = [plan.cells[at] for at in (row.row - 2, row.row) if 0 <= at < plan.rows]
        for run in row.runs:
            cord = run.first_cord
            around = slice(max(0, cord - 2), cord + 1)
            if run.knots == 1 and not any(run.colour in cells[around] for cells in near):
                yield row.row, cord


def _carries_at_limit(
    plan: ChartPlan, used: Sequence[YarnColour], limits: Mapping[str, CarryLimit]
) -> Iterator[Advice]:
    """Carries exactly as wide as is allowed, or exactly as far down: a hint that a wider limit
    would save yarns."""
    for colour in used:
        limit = limits[colour.letter]
        carries = [c for yarn in plan.yarns if yarn.colour == colour.letter for c in yarn.carries]
        wide = [carry.target for carry in carries if _is_widest(carry, limit)]
        far = [carry.target for carry in carries if 0 < limit.rows == _rows_down(carry)]
        for code, spots, furthest in (
            ("carries-at-limit", wide, {"cords": limit.columns}),
            ("carries-at-row-limit", far, {"rows": limit.rows}),
        ):
            if spots:
                first = min(spots, key=lambda spot: spot.row)
                values: Values = {**_named(colour), "carries": len(spots), **furthest}
                yield Advice(code, plan.id, first.row, first.cord, values)


def _is_widest(carry: Carry, limit: CarryLimit) -> bool:
    free = limit.along_row and not _rows_down(carry)
    return not free and 0 < limit.columns == abs(carry.target.cord - carry.origin.cord)


def _rows_down(carry: Carry) -> int:
    return carry.target.row - carry.origin.row


def _many_ends(plan: ChartPlan) -> Iterator[Advice]:
    ends = [end for end in plan.ends if end.kind in ("start", "finish")]
    area_dm2 = plan.width_mm * plan.height_mm / DM_MM**2
    per_dm2 = len(ends) / area_dm2
    if area_dm2 < 1 or per_dm2 <= ENDS_PER_DM2:
        return
    rows, cords = (max(1, round(DM_MM / mm)) for mm in (plan.cell.height_mm, plan.cell.width_mm))
    squares = Counter(((end.row - 1) // rows, (end.cord - 1) // cords) for end in ends)
    (down, across), most = max(squares.items(), key=lambda found: (found[1], found[0]))
    values = {"ends": len(ends), "per_dm2": round(per_dm2, 1), "most": most}
    place = (down * rows + 1, across * cords + 1)
    yield Advice("many-ends", plan.id, *place, {**values, "limit": ENDS_PER_DM2})


def _cords(plan: ChartPlan, piece: ChartPiece, used: Sequence[YarnColour]) -> Iterator[Advice]:
    if plan.piece.cords.strands == 1 and plan.columns % 2:
        yield Advice("odd-last-leg", plan.id, None, plan.columns, {"cord": plan.columns})
    thick = {colour.yarn.diameter_mm for colour in used}
    if piece.gauge.yarn_mm_per_knot and len(thick) > 1:
        values = {"thinnest_mm": min(thick), "thickest_mm": max(thick)}
        yield Advice("swatch-mixed-yarns", plan.id, None, None, values)
    for yarn in dict.fromkeys(colour.yarn for colour in used):
        density = yarn.grams_per_metre / yarn.diameter_mm**2
        if not LIGHTEST <= density <= HEAVIEST:
            values = {"grams_per_metre": yarn.grams_per_metre, "diameter_mm": yarn.diameter_mm}
            named = {"yarn": yarn.name, "yarn_key": yarn.key}
            yield Advice("cord-weight", plan.id, None, None, {**named, **values})


def _long_lengths(plan: ChartPlan, working_mm: float) -> Iterator[Advice]:
    """A knot or a carry that no working length can do: what is cut for it is longer."""
    for yarn in plan.yarns:
        longest = max(yarn.cut_lengths_mm)
        if longest >= working_mm + 50:
            stretch = yarn.stretches[0]
            lengths = {"cut_mm": longest, "working_mm": working_mm}
            place = (stretch.row, stretch.first_cord)
            yield Advice("short-working-length", plan.id, *place, {"yarn": yarn.id, **lengths})
            return
