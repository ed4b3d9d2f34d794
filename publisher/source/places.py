"""Find where the charts begin in a pattern's text, by a plain search."""

from __future__ import annotations

import re
from collections.abc import Sequence

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
