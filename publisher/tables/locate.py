"""Turn findings into problems: look up the line of each in its file."""

from __future__ import annotations

from collections.abc import Mapping

from publisher.errors import Place, Problem
from publisher.tables.findings import Finding, Findings, KeyPath
from publisher.tables.places import Places


def locate(findings: Findings, texts: Mapping[str, str]) -> list[Problem]:
    """Problems with their places. `texts`: each TOML file's text by its name."""
    places: dict[str, Places] = {}
    problems = []
    for finding in findings.found:
        if finding.file in texts and finding.file not in places:
            places[finding.file] = Places(texts[finding.file])
        place = _place(finding, _way(finding, findings), places.get(finding.file))
        problems.append(Problem(place, finding.message, finding.hint))
    return problems


def _way(finding: Finding, findings: Findings) -> KeyPath:
    """The way to the value as the file has it: through misspelt keys, if need be."""
    for length in range(len(finding.path), 0, -1):
        moved = findings.moved.get((finding.file, finding.path[:length]))
        if moved:
            return moved + finding.path[length:]
    return finding.path


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
