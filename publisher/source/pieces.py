"""Turn the tables of pieces into pieces, the house's settings under their own."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.knots.defaults import defaults
from publisher.model.pattern import ChartPiece, Cords, Fringe, Gauge, Mount, Piece, YarnColour
from publisher.source.charts import Cells, make_cells
from publisher.source.format.parts import CordsTable, FringeTable, GaugeTable, MountTable
from publisher.source.format.pieces import ChartTable
from publisher.source.format.steps import StepsTable
from publisher.source.given import Given, layered, piece_carry
from publisher.source.steps import make_part
from publisher.tables.findings import KeyPath
from publisher.tables.schema import LEAST_KNOT_MM

USUAL_ALLOWANCE_PERCENT = 10.0
DIAMETERS_A_KNOT = 24
"""The most yarn that a knot takes, in diameters of the piece's thickest yarn (computed: 23.2)."""


def make_pieces(given: Given, colours: Sequence[YarnColour]) -> tuple[Piece, ...]:
    """The pieces in the file's order."""
    _refuse_twins(given)
    lines = iter(given.chart_lines)
    pieces: list[Piece] = []
    letters = _known_letters(given, colours)
    for index, table in enumerate(given.table.pieces):
        path: KeyPath = ("pieces", index)
        if isinstance(table, StepsTable):
            if not given.findings.passes_over(given.file, path):
                pieces.append(make_part(given, table, path, letters, _allowance(given, table)))
            continue
        line = next(lines) if table.chart is not None else None
        if given.findings.passes_over(given.file, path):
            continue
        cells = make_cells(given, table, path, line, colours)
        pieces.append(_piece(given, table, path, cells, colours))
    return tuple(pieces)


def _known_letters(given: Given, colours: Sequence[YarnColour]) -> list[str]:
    """The colours' letters; none where a misspelt one may be among them."""
    doubtful = given.findings.doubts_names(given.file, "colours")
    return [] if doubtful else [colour.letter for colour in colours]


def _piece(
    given: Given,
    table: ChartTable,
    path: KeyPath,
    cells: Cells,
    colours: Sequence[YarnColour],
) -> ChartPiece:
    allowance = _allowance(given, table)
    _check_tails(given, table, path, allowance, colours)
    return ChartPiece(
        id=table.id,
        make=table.make,
        cells=cells.rows,
        first_row_from=table.first_row_from,
        order=table.order,
        knot=table.knot,
        mount=_mount(given, table),
        cords=_cords(given, table.cords, path, [colour.letter for colour in colours]),
        fringe=_fringe(given, table.fringe, path),
        working_length_mm=table.working_length_mm,
        tail_mm=table.tail_mm,
        carry=piece_carry(given, table),
        gauge=_gauge(given, table.gauge, path),
        allowance_percent=allowance,
        seconds_per_knot=table.seconds_per_knot,
        place=cells.place,
        pixel_proportion=cells.pixel_proportion,
    )


def _mount(given: Given, table: ChartTable) -> Mount:
    usual = MountTable(knot=defaults().mount)
    return layered(Mount, table.mount, given.table.mount, given.house.mount, usual)


def _allowance(given: Given, table: ChartTable | StepsTable) -> float:
    for layer in (table, given.table, given.house):
        if layer.allowance_percent is not None:
            return layer.allowance_percent
    return USUAL_ALLOWANCE_PERCENT


def _check_tails(
    given: Given,
    table: ChartTable,
    path: KeyPath,
    allowance: float,
    colours: Sequence[YarnColour],
) -> None:
    room = table.working_length_mm / (1 + allowance / 100) - 2 * table.tail_mm
    knot = table.gauge.yarn_mm_per_knot if table.gauge else None
    if knot is None:
        thickest = max((colour.yarn.diameter_mm for colour in colours), default=0.0)
        knot = DIAMETERS_A_KNOT * thickest
    if room > 0 and room >= knot:
        return
    tails = f"two tails of {table.tail_mm:g} mm"
    if room > 0:
        message = f"{tails} leave {room:.0f} mm of a working length, too little for a knot"
    else:
        message = f"{tails} leave nothing of a working length"
    hint = f"shorten tail_mm, or make working_length_mm ({table.working_length_mm:g}) longer"
    key = "tail_mm" if room <= 0 else "working_length_mm"
    given.findings.add(given.file, (*path, key), message, hint)


def _refuse_twins(given: Given) -> None:
    seen: dict[str, int] = {}
    for index, piece in enumerate(given.table.pieces):
        first = seen.setdefault(piece.id, index)
        if first != index and not given.findings.knows(given.file, "pieces", first, "id"):
            message = f"piece {index + 1} has the same id as piece {first + 1}: {piece.id}"
            hint = "give every piece an id of its own"
            given.findings.add(given.file, ("pieces", index, "id"), message, hint)


def _cords(given: Given, table: CordsTable | None, path: KeyPath, letters: list[str]) -> Cords:
    letter = table.colour if table and table.colour else next(iter(letters), "")
    doubtful = given.findings.doubts_names(given.file, "colours")
    if letters and letter not in letters and not doubtful:
        from publisher.tables.words import listed

        message = f"the cords' colour, {letter}, is none of the [colours]"
        hint = f"use one of {listed(letters)}"
        given.findings.add(given.file, (*path, "cords", "colour"), message, hint)
    return Cords(letter, table.strands or 2) if table else Cords(letter)


def _fringe(given: Given, table: FringeTable | None, path: KeyPath) -> Fringe:
    if table is None:
        return Fringe()
    usual = Fringe()
    longest, shortest = table.longest_mm, table.shortest_mm
    if longest is None:
        longest = usual.longest_mm if shortest is None else shortest
    fringe = Fringe(table.shape or usual.shape, longest, longest if shortest is None else shortest)
    if not given.findings.knows(given.file, *path, "fringe"):
        _check_fringe(given, fringe, (*path, "fringe"))
    return fringe


def _check_fringe(given: Given, fringe: Fringe, path: KeyPath) -> None:
    longest, shortest = f"{fringe.longest_mm:g}", f"{fringe.shortest_mm:g}"
    if fringe.shortest_mm > fringe.longest_mm:
        message = f"shortest_mm, {shortest}, is more than longest_mm, {longest}"
        given.findings.add(given.file, path, message, "swap the two")
    elif fringe.shape == "straight" and fringe.shortest_mm != fringe.longest_mm:
        message = f"a straight fringe has one length, not {longest} and {shortest} mm"
        hint = 'make the two the same, or choose shape = "point" or "arch"'
        given.findings.add(given.file, path, message, hint)


def _gauge(given: Given, table: GaugeTable | None, path: KeyPath) -> Gauge:
    if given.findings.knows(given.file, *path, "gauge"):
        return Gauge()
    gauge = layered(Gauge, table)
    for pair in (("columns", "width_mm"), ("rows", "height_mm")):
        there = [key for key in pair if getattr(gauge, key) is not None]
        if len(there) == 1:
            (absent,) = {*pair} - {*there}
            message = f"the gauge has {there[0]}, but not {absent}"
            hint = f"measure that on your swatch too, or take {there[0]} out"
            given.findings.add(given.file, (*path, "gauge"), message, hint)
        elif there:
            _check_knot(given, gauge, pair, (*path, "gauge"))
    return gauge


def _check_knot(given: Given, gauge: Gauge, pair: tuple[str, str], path: KeyPath) -> None:
    """A swatch may not say that knots are finer than any yarn."""
    count, length_mm = (getattr(gauge, key) for key in pair)
    if length_mm / count < LEAST_KNOT_MM:
        message = f"{count:,} {pair[0]} in {length_mm:g} mm would be finer than any yarn"
        hint = f"measure the swatch again: {pair[1]} is the length of all of them, in mm"
        given.findings.add(given.file, (*path, pair[1]), message, hint)
