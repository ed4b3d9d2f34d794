"""Write a cutting list as a table that spreadsheets open right."""

from __future__ import annotations

import csv
import io

from publisher.model.plan import Plan

HEAD = ("piece", "for", "colour", "name", "yarn", "count", "length_mm", "total_mm")
_FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r")


def cutting_list_csv(plan: Plan) -> str:
    """The list as CSV (RFC 4180: a head row, CRLF), a byte order mark first; whole mm.

    Text that a spreadsheet would take for a formula gets an apostrophe before it.
    """
    text = io.StringIO(newline="")
    table = csv.writer(text)
    table.writerow(HEAD)
    for line in plan.cutting_list:
        colour = plan.colour(line.colour)
        words = (line.piece, line.purpose, line.colour, colour.name, colour.yarn.name)
        length_mm = round(line.length_mm)
        numbers = (line.count, length_mm, line.count * length_mm)
        table.writerow((*map(_plain, words), *numbers))
    return "\ufeff" + text.getvalue()


def _plain(text: str) -> str:
    return f"'{text}" if text.startswith(_FORMULA_SIGNS) else text
