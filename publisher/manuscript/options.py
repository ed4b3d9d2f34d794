"""What an edition's file may say besides its look: sections, and options that they know."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from publisher.frozen import frozen

WRITERS = {
    "cover": "cover.write_cover",
    "about": "about.write_about",
    "materials": "materials.write_materials",
    "chart": "charts.write_charts",
    "rows": "rows.write_rows",
    "knots": "glossary.write_glossary",
    "parts": "parts.write_parts",
    "assembly": "assembly.write_assembly",
    "finishing": "finishing.write_finishing",
    "cautions": "cautions.write_cautions",
    "begin": "begin.write_begin",
    "kit": "kit.write_kit",
    "class-notes": "kit.write_class_notes",
    "terms": "terms.write_terms",
}
"""Each section's writer, and the module it is at home in: only those of an edition are loaded."""


@frozen
class Option:
    """An option: what it is where an edition does not say it, which tells its kind, and the
    smallest number that it can be told to be."""

    usual: int | float | bool
    least: float = 0.0

    def fault(self, value: Any) -> str | None:
        """Return what a value must be instead; None if it will do."""
        kind = type(self.usual)
        number = float if kind is float and type(value) is int else type(value)
        if number is kind and (kind is bool or value >= self.least):
            return None
        return "true or false" if kind is bool else f"{_KINDS[kind]}, {self.least:g} or more"


_KINDS: Mapping[type, str] = {int: "a whole number", float: "a number"}

OPTIONS: Mapping[str, Option] = {
    "students": Option(12, 1),
    "spare_percent": Option(10),
    "note_lines": Option(0),
    "row_columns": Option(2, 1),
    "rows_in_brief": Option(False),
    "knots_in_brief": Option(False),
    "knot_figure_mm": Option(39.0, 10),
    "knot_column_mm": Option(0.0),
    "knot_figures_a_page": Option(0),
    "cautions_in_a_box": Option(0, 1),
    "tables_as_lists": Option(False),
    "one_column": Option(False),
    "sections_apart": Option(False),
}
"""Where `cautions_in_a_box` is not said, all are in one."""

CHOICES: Mapping[str, tuple[str, ...]] = {
    "hand": ("right", "left"),
    "form": ("pages", "text", "bench"),
}
"""The first is meant where nothing is said."""
KEYS = ("title", "sections", "look", "release", *CHOICES, *OPTIONS)
