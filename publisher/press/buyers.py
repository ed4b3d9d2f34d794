"""Read who bought a pattern from a CSV file, and name each one's copy."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from publisher.errors import Place, Problem, SourceError
from publisher.frozen import frozen

_LONGEST_NAME = 60
_RESERVED = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)(\.|$)", re.IGNORECASE)


@frozen
class Buyer:
    """Whose copy it is; the order's number may be empty."""

    buyer: str
    order: str = ""


def read_buyers(path: Path) -> tuple[Buyer, ...]:
    """A CSV file with the columns buyer and (if wanted) order → its buyers, in order.

    UTF-8, parted by comma, semicolon or tab, in any spreadsheet's dialect. SourceError names every
    line that has no buyer, or what else is wrong with the file.
    """
    text = _text(path)
    rows = csv.reader(io.StringIO(text, newline=""), delimiter=_delimiter(text))
    try:
        return _buyers(path, rows)
    except csv.Error as error:
        problem = Problem(Place(str(path), rows.line_num), str(error), "save the table anew")
        raise SourceError(problem) from None


def _buyers(path: Path, rows: Any) -> tuple[Buyer, ...]:
    heads = [head.strip().lower() for head in next(rows, [])]
    if "buyer" not in heads:
        what = "there is no column “buyer”"
        raise SourceError(Problem(Place(str(path), 1), what, "begin with a line: buyer,order"))
    buyers, problems = [], []
    for row in rows:
        if not any(cell.strip() for cell in row):
            continue
        entry = dict(zip(heads, (cell.strip() for cell in row), strict=False))
        if entry.get("buyer"):
            buyers.append(Buyer(entry["buyer"], entry.get("order", "")))
        else:
            place = Place(str(path), rows.line_num)
            problems.append(Problem(place, "there is no buyer", "name one, or take out the line"))
    if not buyers and not problems:
        problems.append(Problem(Place(str(path), 1), "no buyer is listed", "add a line for each"))
    if problems:
        raise SourceError(*problems)
    return tuple(buyers)


def copy_names(stem: str, buyers: Iterable[Buyer]) -> list[str]:
    """A file name for each buyer's copy of `stem`; no two alike, on any file system."""
    taken: set[str] = set()
    counts: dict[str, int] = {}
    names = []
    for buyer in buyers:
        base = f"{stem}-{safe_file_name(buyer.buyer)}"
        if base.lower() in taken and buyer.order:
            base = f"{base}-{safe_file_name(buyer.order)}"
        name, count = base, counts.get(base.lower(), 1)
        while name.lower() in taken:
            count += 1
            name = f"{base}-{count}"
        counts[base.lower()] = count
        taken.add(name.lower())
        names.append(f"{name}.pdf")
    return names


def safe_file_name(text: str) -> str:
    """Any text → a part of a file name that every system takes: letters, digits, dot and dash.

    Other alphabets are written in Latin letters. Never empty, never longer than 60 characters,
    never a name that Windows keeps for itself.
    """
    from anyascii import anyascii

    plain = re.sub(r"[^A-Za-z0-9.]+", "-", anyascii(text).replace("'", ""))
    plain = re.sub(r"\.{2,}|-?\.-", "-", plain)[:_LONGEST_NAME].strip("-.")
    if not plain or _RESERVED.match(plain):
        return f"buyer-{plain}".rstrip("-.")
    return plain


def _text(path: Path) -> str:
    try:
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        what = "the file is not UTF-8"
        problem = Problem(Place(str(path)), what, "save it as “CSV UTF-8”")
    except OSError as error:
        problem = Problem(Place(str(path)), str(error.strerror), "look for the file")
    raise SourceError(problem)


def _delimiter(text: str) -> str:
    head = text.split("\n", 1)[0]
    return max(",;\t", key=head.count)
