"""Turn the tables of assembly into steps, checking pieces, places and numbers."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from publisher.model.parts import AssemblyStep, PartPlace
from publisher.model.pattern import ChartPiece, Piece
from publisher.source.format.assembly import AssemblyTable, TargetTable
from publisher.source.given import Given
from publisher.tables.findings import KeyPath


def make_assembly(given: Given, pieces: Sequence[Piece]) -> tuple[AssemblyStep, ...]:
    """The steps in the file's order."""
    known = {piece.id: piece for piece in pieces}
    used: Counter[str] = Counter()
    steps = []
    for index, table in enumerate(given.table.assembly):
        path: KeyPath = ("assembly", index)
        if given.findings.passes_over(given.file, path):
            continue
        _check_piece(given, table.piece, (*path, "piece"), known)
        if table.do == "hang":
            _check_hanging(given, table, path)
        else:
            if table.at is not None:
                _check_place(given, table.at, (*path, "at"), known)
            used[table.piece] += table.count
            _check_count(given, table, path, used[table.piece], known.get(table.piece))
        steps.append(_step(table))
    return tuple(steps)


def _step(table: AssemblyTable) -> AssemblyStep:
    at = table.at
    return AssemblyStep(
        deed=table.do,
        piece=table.piece,
        count=table.count,
        at=None if at is None else PartPlace(at.piece, at.row, at.cord),
        turn_degrees=table.turn_degrees,
        hold=table.hold,
        note=table.note,
    )


def _check_hanging(given: Given, table: AssemblyTable, path: KeyPath) -> None:
    """A piece is hung up as it is: how many, and where on another piece, would go unsaid."""
    refused = {
        "count": (table.count > 1, "`make` in the piece says how many there are"),
        "at": (table.at is not None, 'to put it on another piece, write do = "sew" or "glue"'),
    }
    for key, (found, hint) in refused.items():
        if found:
            message = f'a step of do = "hang" has no `{key}`'
            given.findings.add(given.file, (*path, key), message, f"take it out; {hint}")


def _check_piece(given: Given, name: str, path: KeyPath, known: dict[str, Piece]) -> None:
    """The piece of an id is there, where all pieces are known."""
    if name in known or not name or _ids_in_doubt(given):
        return
    from publisher.tables.words import listed, nearest

    near = nearest(name, known)
    hint = f"did you mean {near}?" if near else f"use one of {listed(known)}"
    given.findings.add(given.file, path, f"there is no piece of the id {name}", hint)


def _ids_in_doubt(given: Given) -> bool:
    """Return whether some piece could not be read, or its id could not."""
    return any(
        given.findings.passes_over(given.file, path)
        for index in range(len(given.table.pieces))
        for path in (("pieces", index), ("pieces", index, "id"))
    )


def _check_place(given: Given, at: TargetTable, path: KeyPath, known: dict[str, Piece]) -> None:
    _check_piece(given, at.piece, (*path, "piece"), known)
    piece = known.get(at.piece)
    if piece is None:
        return
    if not isinstance(piece, ChartPiece):
        if at.row is not None or at.cord is not None:
            message = f"{at.piece} is not worked from a chart, so it has no rows and cords"
            given.findings.add(given.file, path, message, f'write at = {{ piece = "{at.piece}" }}')
        return
    if not piece.cells:
        return
    for key, value, most in (("row", at.row, piece.rows), ("cord", at.cord, piece.columns)):
        if value is None:
            message = f"this place has no `{key}`"
            given.findings.add(given.file, path, message, f"add {key} = {(most + 1) // 2}")
        elif value > most:
            message = f"{at.piece} has no {key} {value}: its chart has {most} {key}s"
            given.findings.add(given.file, (*path, key), message, f"choose one from 1 to {most}")


def _check_count(
    given: Given, table: AssemblyTable, path: KeyPath, used: int, piece: Piece | None
) -> None:
    """No more are put on than are made."""
    if piece is None or used <= piece.make:
        return
    message = f"{used} of {piece.id} are used up to here, but make = {piece.make}"
    hint = f"write make = {used} in that piece, or take this step out"
    given.findings.add(given.file, (*path, "piece"), message, hint)
