"""What an edition's file may say: its sections, options that they know, and changes of the look."""

from __future__ import annotations

import dataclasses
from typing import Any, Literal

from publisher.frozen import frozen
from publisher.tables.schema import Schema, choice, key, line, number, rows_of, whole, yes_or_no

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

Hand = Literal["right", "left"]
Form = Literal["pages", "text", "bench"]
_EXAMPLE = 'sections = ["cover", "chart"]'


def _option(schema: Schema, says: str, usual: object, example: str = "") -> Any:
    """An option: without an example of its own, the usual value is one."""
    return key(schema, says, example, usual=usual)


@frozen(kw_only=True)
class Options:
    """The options of sections. Where `cautions_in_a_box` is not said, all are in one."""

    students: int = _option(whole(1), "How many students the shopping list is for.", 12)
    spare_percent: int = _option(whole(0), "How much more than it needs a class buys.", 10)
    note_lines: int = _option(whole(0), "Lines to write on; 0: as many as fill the page.", 0)
    row_columns: int = _option(whole(1), "How many columns the rows stand in.", 2)
    rows_in_brief: bool = _option(yes_or_no(), "Whether notes on rows are told in brief.", False)
    knots_in_brief: bool = _option(yes_or_no(), "Whether only a knot's stages are told.", False)
    knot_figure_mm: float = _option(number(10), "The usual width of a knot's figures.", 39.0)
    knot_column_mm: float = _option(number(0), "The width of a figure's column; 0: its own.", 0.0)
    knot_figures_a_page: int = _option(
        whole(0), "How many stages a page should have under one another; 0: no matter.", 0
    )
    cautions_in_a_box: int = _option(
        whole(1), "The most cautions in one box.", 0, "cautions_in_a_box = 2"
    )
    tables_as_lists: bool = _option(yes_or_no(), "Whether tables are set as lists.", False)
    one_column: bool = _option(yes_or_no(), "Whether nothing stands side by side.", False)
    sections_apart: bool = _option(yes_or_no(), "Whether each section begins a page.", False)


OPTIONS = tuple(option.name for option in dataclasses.fields(Options))


@frozen(kw_only=True)
class EditionTable(Options):
    """`editions/NAME.toml`"""

    title: str = key(line(300), "The edition's title.", 'title = "Booklet"', stand_in="An edition")
    sections: list[str] = key(
        rows_of(choice(*WRITERS)), "What is in it, in order.", _EXAMPLE, stand_in=[]
    )
    hand: Hand = _option(choice("right", "left"), "The hand that it is for.", "right")
    form: Form = _option(choice("pages", "text", "bench"), "What it is made as.", "pages")
    release: bool = _option(yes_or_no(), "Whether releases have it, unless told.", True)
    look: dict[str, Any] = key({"type": "dict"}, "What differs in the look.", "[look]", make=dict)


@frozen(kw_only=True)
class ErrataTable(EditionTable):
    """`errata.toml`"""

    sections: list[str] = key(
        rows_of(choice("errata")), "Only this.", 'sections = ["errata"]', stand_in=[]
    )
