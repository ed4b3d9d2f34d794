"""Turn a piece's chart, text or picture, into its cells and their place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import NamedTuple

from publisher.errors import Place, Problem, SourceError
from publisher.model.colour import Colour
from publisher.model.pattern import YarnColour
from publisher.source.chart import read_chart
from publisher.source.format.pieces import ChartTable
from publisher.source.given import Given
from publisher.tables.findings import Finding, KeyPath
from publisher.tables.text_files import read_bytes


class Cells(NamedTuple):
    """Rows of letters, where the first one stands, and width over height of a picture's pixels."""

    rows: tuple[str, ...]
    place: Place
    pixel_proportion: float | None = None


def make_cells(
    given: Given, table: ChartTable, path: KeyPath, line: int | None, colours: Sequence[YarnColour]
) -> Cells:
    """The chart of a piece. `line`: where its text begins in the file, if it is text."""
    number = int(path[1]) + 1
    if table.chart is not None and table.chart_file is not None:
        message = f"piece {number} has both a chart and a chart_file"
        hint = "keep one of them, and put # before the other"
        given.findings.add(given.file, (*path, "chart_file"), message, hint)
    if table.chart is not None and line is not None:
        return _from_text(given, table.chart, path, line, colours)
    if table.chart_file is not None:
        return _from_picture(given, table.chart_file, path, colours)
    if not given.findings.knows(given.file, *path, "chart_file"):
        hint = 'add chart = """ and its rows, or a line such as chart_file = "heron.png"'
        given.findings.add(given.file, (*path, "chart"), f"piece {number} has no chart", hint)
    return Cells((), Place(given.file))


def _from_text(
    given: Given, chart: str, path: KeyPath, line: int, colours: Sequence[YarnColour]
) -> Cells:
    doubtful = given.findings.doubts_names(given.file, "colours")
    text = read_chart(chart, [] if doubtful else [colour.letter for colour in colours])
    for fault in text.faults:
        given.findings.add_inside(
            Finding(
                given.file,
                (*path, "chart"),
                fault.message,
                fault.hint,
                fault.line,
                fault.column,
            )
        )
    column = text.indent + 1 if text.indent else None
    return Cells(text.cells, Place(given.file, line + text.first_line, column))


def _from_picture(given: Given, name: str, path: KeyPath, colours: Sequence[YarnColour]) -> Cells:
    where = (*path, "chart_file")
    try:
        file, data = _open_picture(Path(given.file).parent, name)
    except SourceError as error:
        (problem,) = error.problems
        given.findings.add(given.file, where, f"chart_file {name}: {problem.message}", problem.hint)
        return Cells((), Place(given.file))
    letters = _letters(given, colours)
    if letters is None:
        return Cells((), Place(str(file)))
    from publisher.source.picture import read_picture

    read = read_picture(data, letters, {colour.letter: colour.name for colour in colours})
    if isinstance(read, list):
        for message, hint in read:
            given.findings.add_inside(Finding(str(file), (), message, hint))
        return Cells((), Place(str(file)))
    return Cells(read.rows, Place(str(file)), read.pixel_proportion)


def _open_picture(folder: Path, name: str) -> tuple[Path, bytes]:
    """A file in the patterns folder or below it; SourceError if it is elsewhere or can't be had."""
    file = folder / name
    if not _is_inside(folder, file):
        hint = "put the picture beside the pattern, and write its name alone"
        raise SourceError(Problem(Place(name), "it is not in the patterns folder", hint))
    try:
        return file, read_bytes(file)
    except SourceError as error:
        near = _near_picture(folder, name)
        if near is None:
            raise
        (problem,) = error.problems
        raise SourceError(replace(problem, hint=f"did you mean {near}?")) from None


def _is_inside(folder: Path, file: Path) -> bool:
    try:
        return file.resolve().is_relative_to(folder.resolve())
    except (OSError, RuntimeError):  # links that lead in a circle
        return False


def _near_picture(folder: Path, name: str) -> str | None:
    """The picture beside the pattern that was most likely meant, if it isn't the one named."""
    from publisher.tables.words import nearest

    pictures = {file.name.lower(): file.name for file in sorted(folder.glob("*.[pP][nN][gG]"))}
    near = nearest(Path(name).name, pictures)
    return pictures[near] if near and pictures[near] != name else None


def _letters(given: Given, colours: Sequence[YarnColour]) -> dict[Colour, str] | None:
    """The letter of each srgb; None where the colours themselves are wrong."""
    letters: dict[Colour, str] = {}
    for colour in colours:
        twin = letters.setdefault(colour.srgb, colour.letter)
        if twin != colour.letter:
            message = f"colour {colour.letter} has the srgb of colour {twin}"
            hint = "change one of them: the picture's pixels can't tell the two apart"
            given.findings.add(given.file, ("colours", colour.letter, "srgb"), message, hint)
    return None if given.findings.knows(given.file, "colours") else letters
