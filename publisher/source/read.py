"""Read a pattern file: file, TOML, schema, meaning, `Pattern`; every problem in one go."""

from __future__ import annotations

import re
from pathlib import Path
from types import EllipsisType

from publisher.errors import Place, Problem, SourceError
from publisher.source.compose import compose
from publisher.source.files import read_text
from publisher.source.findings import Findings
from publisher.source.format.files import HouseTable, PatternTable
from publisher.source.given import Given
from publisher.source.locate import locate
from publisher.source.pattern import Pattern
from publisher.source.places import Places, find_charts
from publisher.source.syntax import parse
from publisher.source.validate import validate

_SLUG = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*")


def read_pattern(path: str | Path, house: str | Path | EllipsisType | None = ...) -> Pattern:
    """The pattern of a file, with the house settings already in it.

    `house`: the file of what all patterns share; left out, it is the house.toml beside the
    pattern, if there is one; None: there is none. SourceError holds every problem, by place.
    """
    path = Path(path)
    problems = _check_name(path)
    findings = Findings()
    texts: dict[str, str] = {}
    table, house_table = None, HouseTable()
    house_path = _house(path, house)
    house_known = True
    try:
        texts[str(path)] = read_text(path)
        table = validate(PatternTable, parse(texts[str(path)], str(path)), str(path), findings)
    except SourceError as error:
        problems += error.problems
    if house_path:
        file = str(house_path)
        try:
            texts[file] = read_text(house_path)
            found = validate(HouseTable, parse(texts[file], file), file, findings)
            house_table, house_known = found or HouseTable(), found is not None
        except SourceError as error:
            problems += error.problems
            house_known = False
    pattern = None
    if table:
        given = Given(
            file=str(path),
            table=table,
            chart_lines=_chart_lines(texts[str(path)], table),
            house_file=str(house_path or ""),
            house=house_table,
            house_known=house_known,
        )
        pattern = compose(given, path.stem, findings)
    problems += locate(findings.found, texts)
    if pattern is None or problems:
        raise SourceError(*sorted(problems, key=_by_place))
    return pattern


def _house(path: Path, house: str | Path | EllipsisType | None) -> Path | None:
    if isinstance(house, EllipsisType):
        beside = path.parent / "house.toml"
        return beside if beside.exists() else None
    return None if house is None else Path(house)


def _check_name(path: Path) -> list[Problem]:
    if _SLUG.fullmatch(path.stem) and len(path.stem) <= 100:
        return []
    hint = "use small letters, figures and single hyphens, like reed-warbler.toml"
    return [Problem(Place(str(path)), "this file's name can't be a pattern's name", hint)]


def _chart_lines(text: str, table: PatternTable) -> tuple[int, ...]:
    charts = [piece.chart for piece in table.pieces if piece.chart is not None]
    lines = find_charts(text, charts)
    if lines is None:
        places = Places(text)
        paths = [("pieces", i, "chart") for i, p in enumerate(table.pieces) if p.chart is not None]
        starts = [places.start(path) for path in paths]
        lines = [start.line if start else 1 for start in starts]
    return tuple(lines)


def _by_place(problem: Problem) -> tuple[str, int, int, str]:
    place = problem.place
    return place.file, place.line or 0, place.column or 0, problem.message
