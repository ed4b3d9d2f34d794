"""Turn the tables of pieces into pieces, their charts read from text or picture."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from publisher.colour import Colour
from publisher.errors import Place, SourceError
from publisher.source.chart import read_chart
from publisher.source.files import read_bytes
from publisher.source.findings import Finding, Findings, KeyPath
from publisher.source.format.parts import FringeTable, GaugeTable
from publisher.source.format.pieces import ChartTable
from publisher.source.given import Given, layered, piece_carry
from publisher.source.pattern import ChartPiece, Cords, Fringe, Gauge, Mount, YarnColour
from publisher.source.picture import Palette, read_picture
from publisher.source.wording import thing


def make_pieces(
    given: Given, colours: Sequence[YarnColour], findings: Findings
) -> tuple[tuple[ChartPiece, ...], tuple[str, ...]]:
    """The pieces in the file's order, and the pictures that charts were read from."""
    _refuse_twins(given, findings)
    lines = iter(given.chart_lines)
    pieces: list[ChartPiece] = []
    pictures: list[str] = []
    for index, table in enumerate(given.table.pieces):
        path = ("pieces", index)
        if table.chart is not None:
            cells, place = _from_text(given, table.chart, path, next(lines), colours, findings)
        else:
            cells, place = _from_picture(given, table.chart_file, path, colours, findings)
            pictures.append(place.file)
        if table.chart is not None and table.chart_file is not None:
            hint = "keep one of them, and put # before the other"
            findings.add(given.file, (*path, "chart_file"), _both(index), hint)
        pieces.append(_piece(given, table, path, cells, colours, place, findings))
    return tuple(pieces), tuple(dict.fromkeys(pictures))


def _both(index: int) -> str:
    return f"piece {index + 1} has both a chart and a chart_file"


def _from_text(
    given: Given,
    chart: str,
    path: KeyPath,
    line: int,
    colours: Sequence[YarnColour],
    findings: Findings,
) -> tuple[tuple[str, ...], Place]:
    text = read_chart(chart, [colour.letter for colour in colours])
    where = (*path, "chart")
    for fault in text.faults:
        findings.add_in_text(
            Finding(given.file, where, fault.message, fault.hint, fault.line, fault.column)
        )
    column = text.indent + 1 if text.indent else None
    return text.cells, Place(given.file, line + text.first_line, column)


def _from_picture(
    given: Given,
    name: str | None,
    path: KeyPath,
    colours: Sequence[YarnColour],
    findings: Findings,
) -> tuple[tuple[str, ...], Place]:
    nothing = (), Place(given.file)
    where = (*path, "chart_file")
    if name is None:
        message = f"{thing(path)} has no chart"
        hint = 'add chart = """ with its rows, or chart_file = "PICTURE.png"'
        findings.add(given.file, path, message, hint)
        return nothing
    folder = Path(given.file).parent
    file = folder / name
    if not file.resolve().is_relative_to(folder.resolve()):
        hint = "put the picture beside the pattern, and give its name alone"
        findings.add(given.file, where, "the chart_file is outside the patterns folder", hint)
        return nothing
    try:
        data = read_bytes(file)
    except SourceError as error:
        (problem,) = error.problems
        findings.add(given.file, where, f"the chart_file {name}: {problem.message}", problem.hint)
        return nothing
    read = read_picture(data, _palette(given, colours, findings))
    if isinstance(read, list):
        for message, hint in read:
            findings.add_in_text(Finding(str(file), (), message, hint))
        return nothing
    return read, Place(str(file))


def _palette(given: Given, colours: Sequence[YarnColour], findings: Findings) -> Palette:
    letters: dict[Colour, str] = {}
    for colour in colours:
        twin = letters.setdefault(colour.srgb, colour.letter)
        if twin != colour.letter:
            message = f"colour {colour.letter} has the same srgb as colour {twin}"
            hint = "change one of them, so that the picture's pixels tell them apart"
            findings.add(given.file, ("colours", colour.letter, "srgb"), message, hint)
    return Palette(letters, {colour.letter: colour.name for colour in colours})


def _piece(
    given: Given,
    table: ChartTable,
    path: KeyPath,
    cells: tuple[str, ...],
    colours: Sequence[YarnColour],
    place: Place,
    findings: Findings,
) -> ChartPiece:
    allowance = (table.allowance_percent, given.table.allowance_percent)
    return ChartPiece(
        id=table.id,
        make=table.make,
        cells=cells,
        first_row_from=table.first_row_from,
        order=table.order,
        knot=table.knot,
        mount=layered(Mount, table.mount, given.table.mount, given.house.mount),
        cords=_cords(given, table, path, colours, findings),
        fringe=_fringe(given, table.fringe, path, findings),
        working_length_mm=table.working_length_mm,
        tail_mm=table.tail_mm,
        carry=piece_carry(given, table),
        gauge=_gauge(given, table.gauge, path, findings),
        allowance_percent=next(
            (own for own in (*allowance, given.house.allowance_percent) if own is not None), 10.0
        ),
        seconds_per_knot=table.seconds_per_knot,
        place=place,
    )


def _refuse_twins(given: Given, findings: Findings) -> None:
    seen: dict[str, int] = {}
    for index, piece in enumerate(given.table.pieces):
        first = seen.setdefault(piece.id, index)
        if first != index and piece.id:
            message = f"piece {index + 1} has the id of piece {first + 1}, {piece.id}"
            findings.add(
                given.file, ("pieces", index, "id"), message, "give every piece an id of its own"
            )


def _cords(
    given: Given,
    table: ChartTable,
    path: KeyPath,
    colours: Sequence[YarnColour],
    findings: Findings,
) -> Cords:
    letters = [colour.letter for colour in colours]
    own = table.cords
    letter = own.colour if own and own.colour else (letters or [""])[0]
    if letters and letter not in letters:
        message = f"the cords' colour {letter} is not one of the [colours]"
        hint = f"use one of {', '.join(letters[:12])}"
        findings.add(given.file, (*path, "cords", "colour"), message, hint)
    return Cords(letter) if own is None or own.strands is None else Cords(letter, own.strands)


def _fringe(given: Given, table: FringeTable | None, path: KeyPath, findings: Findings) -> Fringe:
    fringe = layered(Fringe, table)
    longest, shortest = fringe.longest_mm, fringe.shortest_mm
    if table and (table.longest_mm is None or table.shortest_mm is None):
        one = table.longest_mm if table.shortest_mm is None else table.shortest_mm
        if one is not None:
            longest = shortest = one
    where = (*path, "fringe")
    if shortest > longest:
        message = f"the fringe's shortest length, {shortest:g} mm, is longer than its longest"
        findings.add(given.file, where, message, "swap shortest_mm and longest_mm")
    elif fringe.shape == "straight" and shortest != longest:
        message = f"a straight fringe has one length, not {shortest:g} and {longest:g} mm"
        hint = 'make them the same, or choose shape = "point" or "arch"'
        findings.add(given.file, where, message, hint)
    return replace(fringe, longest_mm=longest, shortest_mm=shortest)


def _gauge(given: Given, table: GaugeTable | None, path: KeyPath, findings: Findings) -> Gauge:
    gauge = layered(Gauge, table)
    for count, size in (("columns", "width_mm"), ("rows", "height_mm")):
        there = [key for key in (count, size) if getattr(gauge, key) is not None]
        if len(there) == 1:
            (missing,) = {count, size} - {*there}
            message = f"the gauge has {there[0]}, but not {missing}"
            hint = f"measure both on your swatch, or take {there[0]} out"
            findings.add(given.file, (*path, "gauge"), message, hint)
    return gauge
