"""Read a pattern file in passes: text, TOML, tables, meaning; every problem in one go."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from types import EllipsisType
from typing import TypeVar

from publisher.errors import Place, Problem, SourceError, by_place
from publisher.frozen import frozen
from publisher.model.pattern import Pattern, Yarn, YarnColour
from publisher.source.colours import make_house_colours, make_yarns
from publisher.source.compose import compose
from publisher.source.folder import is_slug
from publisher.source.format.files import HouseTable, PatternTable
from publisher.source.format.pieces import ChartTable
from publisher.source.given import Given
from publisher.source.own_knots import FOLDER, OwnKnots
from publisher.tables.findings import Findings
from publisher.tables.reader import read_table
from publisher.tables.syntax import parse
from publisher.tables.text_files import read_text

Table = TypeVar("Table")


def read_pattern(
    path: str | Path, house: str | Path | EllipsisType | None = ..., *, text: str | None = None
) -> Pattern:
    """The pattern of a file, with the house settings already in it.

    `house`: the file of what all patterns share; left out, it is the house.toml beside the
    pattern, if there is one; None: there is none. `text`: what the file is to hold, before it
    does. SourceError holds every problem, by place.
    """
    path = Path(path)
    reading = _Reading()
    reading.problems += check_name(path)
    table = reading.table(PatternTable, path, text)
    house_path = _find_house(path) if isinstance(house, EllipsisType) else house
    house_table = None if house_path is None else reading.table(HouseTable, Path(house_path))
    pattern = None
    if table:
        given = Given(
            findings=reading.findings,
            file=str(path),
            table=table,
            chart_lines=_chart_lines(reading.texts[str(path)], table),
            house_file="" if house_path is None else str(Path(house_path)),
            house=house_table or HouseTable(),
            house_known=house_path is None or house_table is not None,
            knots=OwnKnots(path.parent / FOLDER),
        )
        pattern = compose(given, path.stem)
    problems = reading.all_problems()
    if pattern is None or problems:
        raise SourceError(*problems)
    return pattern


@frozen
class House:
    """The values that all patterns share, as far as charts are made from them."""

    yarns: tuple[Yarn, ...] = ()
    colours: tuple[YarnColour, ...] = ()


def read_house(path: Path) -> House:
    """The yarns and colours of a house.toml; none where it is not there. SourceError as above."""
    if _find_house(path) is None:
        return House()
    reading = _Reading()
    table = reading.table(HouseTable, path) or HouseTable()
    nothing = PatternTable(format=1, title="", version="", colours={}, pieces=[])
    knots = OwnKnots(path.parent / FOLDER)
    given = Given(reading.findings, str(path), nothing, (), str(path), table, True, knots)
    yarns = make_yarns(given)
    house = House(tuple(yarns.values()), make_house_colours(given, yarns))
    problems = reading.all_problems()
    if problems:
        raise SourceError(*problems)
    return house


@dataclass(slots=True)
class _Reading:
    """The texts read so far, and what is wrong in them."""

    texts: dict[str, str] = field(default_factory=dict)
    findings: Findings = field(default_factory=Findings)
    problems: list[Problem] = field(default_factory=list)

    def table(self, kind: type[Table], path: Path, text: str | None = None) -> Table | None:
        """A file's table; None if it can't be read at all."""
        file = str(path)
        try:
            self.texts[file] = read_text(path) if text is None else text
            data = parse(self.texts[file], file)
            if not data and kind is PatternTable:
                hint = "`publisher new SLUG` writes a pattern to start from"
                raise SourceError(Problem(Place(file, 1), "this file is empty", hint))
            return read_table(kind, data, file, self.findings)
        except SourceError as error:
            self.problems += error.problems
            return None

    def all_problems(self) -> list[Problem]:
        """Return what was found, each thing at its line, by place."""
        if self.findings.found:
            from publisher.tables.locate import locate

            self.problems += locate(self.findings, self.texts)
        return sorted(self.problems, key=by_place)


def _find_house(path: Path) -> Path | None:
    beside = path.parent / "house.toml"
    try:
        return beside if beside.exists() or beside.is_symlink() else None
    except OSError:  # there, but it may not be looked at
        return beside


def check_name(path: Path) -> list[Problem]:
    """Return what is wrong with a pattern file's name, if anything."""
    if path.name == "house.toml":
        hint = "name a pattern's file, or start one with `publisher new SLUG`"
        return [Problem(Place(str(path)), "house.toml is what patterns share, not a pattern", hint)]
    if is_slug(path.stem):
        return []
    hint = "rename it with small letters, figures and single hyphens, like reed-warbler.toml"
    return [Problem(Place(str(path)), "this file's name can't be a pattern's name", hint)]


def _chart_lines(text: str, table: PatternTable) -> tuple[int, ...]:
    """The line that each chart's text begins on."""
    charts = {
        index: p.chart
        for index, p in enumerate(table.pieces)
        if isinstance(p, ChartTable) and p.chart is not None
    }
    lines = find_charts(text, list(charts.values()))
    if lines is None:
        from publisher.tables.places import Places

        places = Places(text)
        starts = [places.start(("pieces", index, "chart")) for index in charts]
        lines = [start.line if start else 1 for start in starts]
    return tuple(lines)


_CHART = re.compile(r"^[ \t]*chart[ \t]*=[ \t]*(\"\"\"|''')(\n?)", re.MULTILINE)


def find_charts(text: str, charts: Sequence[str]) -> list[int] | None:
    """The line of each chart's first character, by a plain search; None if that is in doubt."""
    found = list(_CHART.finditer(text))
    if len(found) != len(charts):
        return None
    if not all(text.startswith(c, m.end()) and m[2] for c, m in zip(charts, found, strict=True)):
        return None
    lines: list[int] = []
    line, at = 1, 0
    for match in found:
        line, at = line + text.count("\n", at, match.end()), match.end()
        lines.append(line)
    return lines
