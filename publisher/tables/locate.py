"""Turn findings into problems: look up the line of each in its file."""

from __future__ import annotations

from collections.abc import Mapping

from publisher.errors import Place, Problem, by_place
from publisher.tables.findings import Finding, Findings, KeyPath
from publisher.tables.places import Places


def locate(findings: Findings, texts: Mapping[str, str]) -> list[Problem]:
    """Problems with their places, in their order. `texts`: each TOML file's text by its name."""
    places: dict[str, Places] = {}
    problems = []
    for finding in findings.found:
        if finding.file in texts and finding.file not in places:
            places[finding.file] = Places(texts[finding.file])
        place = _place(finding, findings.way(finding), places.get(finding.file))
        problems.append(Problem(place, finding.message, finding.hint))
    return sorted(problems, key=by_place)


def _place(finding: Finding, path: KeyPath, places: Places | None) -> Place:
    if places is None:
        return Place(finding.file)
    start = places.start(path) if finding.row is not None else None
    if start is None or finding.row is None:
        return Place(finding.file, places.line(path))
    if not start.in_lines:
        return Place(finding.file, start.line)
    before = 0 if finding.row else start.before
    column = None if finding.column is None else before + finding.column + 1
    return Place(finding.file, start.line + finding.row, column)
