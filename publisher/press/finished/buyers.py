"""Read who bought a pattern from a CSV file, and name each one's copy."""

from __future__ import annotations

import re
import unicodedata
from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import field
from pathlib import Path

from publisher.errors import MORE_OPEN, Place, Problem, SourceError, is_at_limit
from publisher.file_names import is_reserved
from publisher.frozen import frozen

_LONGEST_NAME = 60


_LINE_END = re.compile("\r\n|\n|\r")
_CONTROL = re.compile("[\x00-\x1f\x7f-\x9f\u2028\u2029]")
_LINE_BREAKS = "\r\n\x85\u2028\u2029"
_BLANK_LETTERS = frozenset("\u115f\u1160\u2800\u3164\uffa0")
"""Letters and signs by their category that show nothing (Unicode, Default_Ignorable_Code_Point, and
the Braille pattern without a dot)."""
_COLUMNS = ("buyer", "order")
_SIGNS = {",": "comma", ";": "semicolon", "\t": "tab"}


@frozen
class Buyer:
    """A buyer, and perhaps an order's number."""

    buyer: str
    order: str = ""


@frozen
class BuyerList:
    """The buyers of a file in its order. `notes`: what the writer should look at."""

    buyers: tuple[Buyer, ...]
    notes: tuple[Problem, ...] = ()


def read_buyers(path: Path) -> BuyerList:
    """Read a CSV file with the columns buyer and (if wanted) order.

    UTF-8, parted by comma, semicolon or tab; cells in quotation marks as in RFC 4180, but each
    within its line. SourceError names every line that has anything doubtful in it: read otherwise
    than it was meant, it would give buyers each other's copies.
    """
    head, *lines = _LINE_END.split(_text(path))
    reader = _Reader(str(path), _delimiter(head))
    columns = reader.read_columns(head)
    found = (reader.read_buyer(number, line, columns) for number, line in enumerate(lines, 2))
    buyers = tuple(buyer for buyer in found if buyer)
    if not buyers and not reader.problems:
        reader.tell(1, "no buyer is listed", "add a line for each")
    if reader.problems:
        raise SourceError(*reader.problems)
    return BuyerList(buyers, tuple(_unread(str(path), columns)))


@frozen
class _Reader:
    """A file that is being read, and what is wrong with it so far."""

    file: str
    delimiter: str
    problems: list[Problem] = field(default_factory=list)

    def tell(self, line: int, message: str, hint: str) -> None:
        """Take down what is wrong with a line."""
        self.problems.append(Problem(Place(self.file, line), message, hint))

    def read_columns(self, line: str) -> list[str]:
        """The columns' names. SourceError where they don't say which one is which."""
        columns = [cell.lower() for cell in self._cells(1, line)]
        for name, times in Counter(filter(None, columns)).items():
            if times > 1:
                self.tell(1, f"{times} columns are called “{name}”", "give each a name of its own")
        if "buyer" not in columns and not self.problems:
            self.tell(1, "there is no column “buyer”", "begin with a line: buyer,order")
        if self.problems:
            raise SourceError(*self.problems)
        return columns

    def read_buyer(self, number: int, line: str, columns: Sequence[str]) -> Buyer | None:
        """Return the buyer that a line is for; None where it is empty, or wrong."""
        before = len(self.problems)
        cells = self._cells(number, line)
        if not any(cells):
            return None
        read = [place for place, name in enumerate(columns, 1) if name in _COLUMNS]
        if len(cells) < max(read) or any(cells[len(columns) :]):
            count = "1 cell" if len(cells) == 1 else f"{len(cells)} cells"
            message = f"this line has {count}, but there are {len(columns)} columns"
            sign = _SIGNS[self.delimiter]
            self.tell(number, message, f"put quotation marks round a cell with a {sign} in it")
        entry = dict(zip(columns, cells, strict=False))
        buyer = Buyer(entry.get("buyer", ""), entry.get("order", ""))
        for _, message, hint in what_is_wrong(buyer):
            self.tell(number, message, hint)
        return buyer if len(self.problems) == before else None

    def _cells(self, number: int, line: str) -> list[str]:
        """The cells of a line, without the blanks and quotation marks round them; none, and a
        problem, where such a mark is not closed or stands inside a cell."""
        rest, cells = line + self.delimiter, []
        end = self.delimiter
        pattern = re.compile(f' *"((?:[^"]|"")*)" *{end}|([^"{end}]*){end}')
        position = 0
        while position < len(rest):
            found = pattern.match(rest, position)
            if not found:
                message = "a quotation mark is not closed in its line, or stands inside a cell"
                hint = "take it out, or put the whole cell in quotation marks and write it twice"
                self.tell(number, message, hint)
                return []
            quoted, plain = found.groups()
            cells.append((plain if quoted is None else quoted.replace('""', '"')).strip())
            position = found.end()
        return cells


def _unread(file: str, columns: Iterable[str]) -> Iterator[Problem]:
    """A note on the columns that nothing is read from."""
    strange = [f"“{name}”" for name in columns if name and name not in _COLUMNS]
    if strange:
        what = f"nothing is read from {' and '.join(strange)}"
        yield Problem(Place(file, 1), what, "the columns that count are called buyer and order")


def what_is_wrong(buyer: Buyer) -> Iterator[tuple[str, str, str]]:
    """Yield why there can be no copy for a buyer: in which of the columns, what, and what to do."""
    if not any(map(_is_seen, buyer.buyer)):
        yield "buyer", "there is no name", "say who bought it"
    for name, text in (("buyer", buyer.buyer), ("order", buyer.order)):
        found = _CONTROL.search(text)
        if found:
            code = ord(found[0])
            sign = (
                "a line break" if found[0] in _LINE_BREAKS else f"the invisible sign U+{code:04X}"
            )
            yield name, f"the {name} has {sign} in it", "take it out"


def _is_seen(sign: str) -> bool:
    return unicodedata.category(sign)[0] not in "CMZ" and sign not in _BLANK_LETTERS


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
    if not plain or is_reserved(plain):
        return f"buyer-{plain}".rstrip("-.")
    return plain


def _text(path: Path) -> str:
    try:
        return path.read_bytes().decode("utf-8-sig")
    except UnicodeDecodeError:
        what = "the file is not UTF-8"
        problem = Problem(Place(str(path)), what, "save it as “CSV UTF-8”")
    except OSError as error:
        hint = MORE_OPEN if is_at_limit(error) else "look for the file"
        problem = Problem(Place(str(path)), str(error.strerror), hint)
    raise SourceError(problem)


def _delimiter(head: str) -> str:
    return max(_SIGNS, key=head.count)
