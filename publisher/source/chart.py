"""Turn a chart's text into rows of letters, with every fault in it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from publisher.frozen import frozen
from publisher.tables.words import can_be_seen

MOST_COLUMNS = 2_000
MOST_ROWS = 5_000
MOST_KNOTS = 1_000_000
MOST_TOLD = 10


@frozen
class ChartFault:
    """A mistake in a chart. `line` and `column` count its text from 0; None: the whole chart."""

    line: int | None
    column: int | None
    message: str
    hint: str


@frozen
class ChartText:
    """A chart's rows, and where they stand in its text."""

    cells: tuple[str, ...]
    first_line: int
    """The text's line, from 0, that row 1 is on."""
    indent: int
    """Blanks before each row."""
    faults: tuple[ChartFault, ...]


def read_chart(text: str, letters: Collection[str]) -> ChartText:
    """The rows of a chart written as text. Blanks round the rows don't count.

    `letters`: those that stand for a colour; if there are none, no letter is looked at.
    """
    lines = [line.rstrip() for line in text.split("\n")]
    filled = [index for index, line in enumerate(lines) if line]
    if not filled:
        return ChartText((), 0, 0, (ChartFault(None, None, "the chart is empty", _EMPTY),))
    indent = _common_indent([lines[index] for index in filled])
    rows = [ChartRow(row + 1, line, lines[line][indent:]) for row, line in enumerate(filled)]
    found = (*_gaps(rows), *_oversize(rows), *_ragged(rows), *_blanks(rows))
    faults = (*found, *_strangers(rows, letters)) if letters else found
    shifted = tuple(
        fault if fault.column is None else replace(fault, column=fault.column + indent)
        for fault in faults
    )
    return ChartText(tuple(row.knots for row in rows), filled[0], indent, shifted)


@frozen
class ChartRow:
    number: int
    line: int
    knots: str


def _common_indent(lines: Sequence[str]) -> int:
    """Return how many blanks all lines begin with, the same in each."""
    first = lines[0]
    indent = len(first) - len(first.lstrip())
    while not all(line.startswith(first[:indent]) for line in lines):
        indent -= 1
    return indent


def _gaps(rows: Sequence[ChartRow]) -> Iterator[ChartFault]:
    for above, below in pairwise(rows):
        if below.line > above.line + 1:
            message = f"there is an empty line between row {above.number} and row {below.number}"
            yield ChartFault(above.line + 1, None, message, _GAP)


def _oversize(rows: Sequence[ChartRow]) -> Iterator[ChartFault]:
    message = too_large(max(len(row.knots) for row in rows), len(rows))
    if message:
        yield ChartFault(None, None, message, OVERSIZE_HINT)


def too_large(columns: int, rows: int) -> str | None:
    """Return what is wrong with a chart's size, if anything."""
    if columns > MOST_COLUMNS or rows > MOST_ROWS or columns * rows > MOST_KNOTS:
        return (
            f"the chart has {columns:,} columns and {rows:,} rows; the most are {MOST_COLUMNS:,} "
            f"columns, {MOST_ROWS:,} rows and {MOST_KNOTS:,} knots in all"
        )
    return None


def _ragged(rows: Sequence[ChartRow]) -> Iterator[ChartFault]:
    """Rows that are not as long as most rows are, or as the first one is."""
    sizes = Counter(len(row.knots) for row in rows)
    if len(sizes) == 1:
        return
    usual, often = sizes.most_common(1)[0]
    like = next(row.number for row in rows if len(row.knots) == usual)
    others = "most rows have" if often * 2 > len(rows) else f"row {like} has"
    odd = [r for r in rows if len(r.knots) != usual and _first_blank(r.knots) is None]
    for row in odd[:MOST_TOLD]:
        count = len(row.knots)
        message = f"row {row.number} has {knots(count)}, but {others} {usual:,}"
        gap = abs(usual - count)
        letters = "1 letter" if gap == 1 else f"{gap:,} letters"
        hint = f"add {letters} to it" if count < usual else f"take {letters} out of it"
        yield ChartFault(row.line, min(count, usual), message, hint)
    if len(odd) > MOST_TOLD:
        message = f"{len(odd) - MOST_TOLD:,} more rows of this chart do not have {knots(usual)}"
        hint = "count the letters of each row against one that is right"
        yield ChartFault(odd[MOST_TOLD].line, None, message, hint)


def _blanks(rows: Sequence[ChartRow]) -> Iterator[ChartFault]:
    """Blanks inside rows: one fault a row, up to a few rows."""
    odd = [(row, at) for row in rows if (at := _first_blank(row.knots)) is not None]
    for row, at in odd[:MOST_TOLD]:
        what = "a tab" if row.knots[at] == "\t" else "a blank"
        where = f"after cord {at}" if at else "before its first letter"
        yield ChartFault(row.line, at, f"row {row.number} has {what} {where}", _BLANK)
    if len(odd) > MOST_TOLD:
        message = f"{len(odd) - MOST_TOLD:,} more rows of this chart have blanks in them"
        yield ChartFault(odd[MOST_TOLD][0].line, None, message, _BLANK)


def _first_blank(knots: str) -> int | None:
    if len(knots.split(None, 1)) == 1 and not knots[0].isspace():
        return None
    return next(index for index, sign in enumerate(knots) if sign.isspace())


def _strangers(rows: Sequence[ChartRow], letters: Collection[str]) -> Iterator[ChartFault]:
    """Letters that stand for no colour: one fault a letter, at its first knot."""
    known = frozenset(letters)
    first: dict[str, tuple[ChartRow, int]] = {}
    count: Counter[str] = Counter()
    for row in rows:
        for letter in sorted({*row.knots} - known, key=row.knots.index):
            if not letter.isspace():
                first.setdefault(letter, (row, row.knots.index(letter)))
                count[letter] += row.knots.count(letter)
    for letter, (row, at) in list(first.items())[:MOST_TOLD]:
        often = count[letter]
        where = f"row {row.number}, cord {at + 1}"
        where += f" and {often - 1:,} more" if often > 1 else ""
        message = f"the {_as_seen(letter)} stands for no colour ({where})"
        yield ChartFault(row.line, at, message, _letter_hint(letter, letters))
    if len(first) > MOST_TOLD:
        row, at = list(first.values())[MOST_TOLD]
        message = f"{len(first) - MOST_TOLD:,} more letters of this chart stand for no colour"
        yield ChartFault(row.line, at, message, "give each letter of the chart a colour of its own")


def _as_seen(letter: str) -> str:
    return f"letter {letter}" if can_be_seen(letter) else f"invisible sign U+{ord(letter):04X}"


def _letter_hint(letter: str, letters: Collection[str]) -> str:
    if not can_be_seen(letter):
        return "take it out"
    other = letter.swapcase()
    if other in letters:
        return f"did you mean {other}? Capitals and small letters are two things"
    known = ", ".join(list(letters)[:12]) + (", …" if len(letters) > 12 else "")
    return f"add a colour [colours.{_as_key(letter)}], or change it to one that is there: {known}"


def _as_key(letter: str) -> str:
    """A letter as it stands in a heading: in quotes where TOML wants them."""
    if letter.isascii() and letter.isalnum():
        return letter
    return f'"{letter}"' if letter == "'" else f"'{letter}'"


def knots(count: int) -> str:
    """`1 knot`, `48 knots`."""
    return "1 knot" if count == 1 else f"{count:,} knots"


_EMPTY = "write a line for every row, with a letter for every knot"
_GAP = "take the empty line out, or write the row that belongs there"
_BLANK = "close the row up: a letter for every knot, and nothing between them"
OVERSIZE_HINT = "part the picture into several pieces"
