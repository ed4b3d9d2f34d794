"""Turn findings into problems: look up the line of each in its file."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from publisher.errors import Place, Problem
from publisher.source.findings import Finding
from publisher.source.syntax_tree import Places


def locate(findings: Iterable[Finding], texts: Mapping[str, str]) -> list[Problem]:
    """Problems with their places. `texts`: each TOML file's text by its name."""
    places: dict[str, Places] = {}
    problems = []
    for finding in findings:
        if finding.file in texts and finding.file not in places:
            places[finding.file] = Places(texts[finding.file])
        problems.append(
            Problem(_place(finding, places.get(finding.file)), finding.message, finding.hint)
        )
    return problems


def _place(finding: Finding, places: Places | None) -> Place:
    if places is None:
        return Place(finding.file)
    start = places.start(finding.path) if finding.row is not None else None
    if start is None or finding.row is None:
        return Place(finding.file, places.line(finding.path))
    if not start.in_lines:
        return Place(finding.file, start.line)
    before = 0 if finding.row else start.before
    column = None if finding.column is None else before + finding.column + 1
    return Place(finding.file, start.line + finding.row, column)
