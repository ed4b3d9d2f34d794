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
    """What an option must be; `least`, the smallest number."""

    kind: type[int | float | bool]
    least: float = 0.0

    def fault(self, value: Any) -> str | None:
        """What a value must be instead; None if it will do."""
        number = float if self.kind is float and type(value) is int else type(value)
        if number is self.kind and (self.kind is bool or value >= self.least):
            return None
        return (
            "true or false" if self.kind is bool else f"{_KINDS[self.kind]}, {self.least:g} or more"
        )


_KINDS = {int: "a whole number", float: "a number"}

OPTIONS: Mapping[str, Option] = {
    "students": Option(int, 1),
    "spare_percent": Option(int),
    "note_lines": Option(int),
    "row_columns": Option(int, 1),
    "rows_in_brief": Option(bool),
    "knots_in_brief": Option(bool),
    "knot_figure_mm": Option(float, 10),
    "knot_column_mm": Option(float),
    "knot_figures_a_page": Option(int),
    "cautions_in_a_box": Option(int, 1),
    "tables_as_lists": Option(bool),
    "one_column": Option(bool),
    "sections_apart": Option(bool),
}

CHOICES: Mapping[str, tuple[str, ...]] = {
    "hand": ("right", "left"),
    "form": ("pages", "text", "bench"),
}
"""The first is meant where nothing is said."""
KEYS = ("title", "sections", "look", "release", *CHOICES, *OPTIONS)
