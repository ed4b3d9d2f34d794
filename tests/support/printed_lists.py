"""Read the cutting list and the shopping list back from the words of a printed book."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from publisher.model.pattern import Pattern
from tests.support.printed import opened

Lengths = tuple[tuple[int, Fraction], ...]

_PARTS = {"¼": (1, 4), "½": (1, 2), "¾": (3, 4), "⅛": (1, 8), "⅜": (3, 8), "⅝": (5, 8), "⅞": (7, 8)}
_NUMBER = r"[\d,]*(?:\.\d+|[¼½¾⅛⅜⅝⅞])?"
_PURPOSES = ("Hanging cords, folded in half", "Cord to hang it by", "Working yarn", "Cords to cut")


@dataclass(frozen=True)
class Row:
    """A row of the cutting list: lengths by unit, `cm` and `in`, and what stands under In all."""

    purpose: str
    piece: str
    letter: str
    lengths: dict[str, Lengths]
    in_all: Fraction

    def total(self, unit: str) -> Fraction:
        """All lengths of the row, one beside the other."""
        return sum((count * length for count, length in self.lengths[unit]), Fraction())


@dataclass(frozen=True)
class Bought:
    """A line of the shopping list: numbers by the unit in the head of their column."""

    letter: str
    amounts: dict[str, Fraction]


def page_texts(pdf: bytes) -> list[str]:
    """The words of every page, as pdfium reads them."""
    with opened(pdf) as document:
        return [page.get_textpage().get_text_range().replace("\u00a0", " ") for page in document]


def number(text: str) -> Fraction:
    """`1,452.5` or `120¼`."""
    text = text.replace(",", "")
    if text[-1:] in _PARTS:
        return Fraction(text[:-1] or 0) + Fraction(*_PARTS[text[-1]])
    return Fraction(text)


def cutting_rows(texts: Sequence[str], pattern: Pattern) -> tuple[list[Row], Fraction]:
    """The rows of the printed cutting list, and what stands under In all in its last row."""
    text = " ".join("\n".join(texts).split())
    start = text.index("Cutting list Every length")
    end = re.compile(rf"Together ({_NUMBER})").search(text, start)
    assert end
    by_number = _by_number(text[end.end() :], pattern)
    pieces = [piece.id.replace("-", " ") for piece in pattern.pieces]
    heads = "|".join(re.escape(purpose) for purpose in _PURPOSES)
    heading = rf"(?:{heads})(?:: (?:{'|'.join(pieces)}))?(?= |$)"
    names = "|".join(re.escape(f"{one.letter} {one.name}") for one in pattern.colours)
    found: list[Row] = []
    purpose = piece = ""
    for part in re.split(rf" (?={heading}|(?:{names}) [\d,]+ )", text[start : end.start()]):
        head = re.match(heading, part)
        if head:
            purpose, _, piece = head[0].partition(": ")
        elif name := re.match(names, part):
            row = part[name.end() :].strip()
            lengths, in_all = _row(row, pattern, by_number)
            found.append(Row(purpose, piece, part[0], lengths, in_all))
    return found, number(end[1])


def _row(
    row: str, pattern: Pattern, by_number: Iterator[dict[str, Lengths]]
) -> tuple[dict[str, Lengths], Fraction]:
    first, second = _units(pattern)
    many = re.match(rf"([\d,]+) by number \(page \d+\) ({_NUMBER})", row)
    if many:
        for_one = next(by_number)
        make = number(many[1]) / sum(count for count, _ in for_one[first])
        assert make in {piece.make for piece in pattern.pieces}
        lengths = {
            unit: tuple((int(make) * count, length) for count, length in listed)
            for unit, listed in for_one.items()
        }
        return lengths, number(many[2])
    others = rf"([^a-z]+) {first} ([^a-z]+) {second} "
    match = re.match(rf"([\d,]+) ({_NUMBER}) ({_NUMBER}) (?:{others})?({_NUMBER})(?: |$)", row)
    assert match, row
    count = int(number(match[1]))
    return {
        first: ((count, number(match[2])), *_counted(match[4])),
        second: ((count, number(match[3])), *_counted(match[5])),
    }, number(match[6])


def _units(pattern: Pattern) -> tuple[str, str]:
    return ("cm", "in") if pattern.units == "metric-first" else ("in", "cm")


def _counted(text: str | None) -> Iterator[tuple[int, Fraction]]:
    """`2 × 280, 70`."""
    for one in text.split(", ") if text else ():
        count, _, length = one.rpartition(" × ")
        yield int(count or 1), number(length)


def _by_number(text: str, pattern: Pattern) -> Iterator[dict[str, Lengths]]:
    """The lists of hanging cords by number: as many cords of each length as are named."""
    first, second = _units(pattern)
    for part in text.split("Hanging cords by number")[1:]:
        lengths: dict[str, list[tuple[int, Fraction]]] = {first: [], second: []}
        part = re.split(r"Shopping list|To buy for|Together", part)[0]
        cords = r"\d+(?:–\d+)?(?:, \d+(?:–\d+)?)*"
        for row in re.finditer(rf"(?<= )({cords}) ({_NUMBER}) (\d+\.\d|{_NUMBER})(?= |$)", part):
            count = sum(map(_count, row[1].split(", ")))
            lengths[first].append((count, number(row[2])))
            lengths[second].append((count, number(row[3])))
        yield {unit: tuple(found) for unit, found in lengths.items()}


def _count(cords: str) -> int:
    """`3` or `55–66`."""
    first, _, last = cords.partition("–")
    return int(last or first) - int(first) + 1


def bought(
    texts: Sequence[str], pattern: Pattern, head: str = "Shopping list"
) -> tuple[list[Bought], Bought]:
    """The lines of a printed shopping list, and its last one, Together."""
    text = " ".join("\n".join(texts).split())
    text = text[text.index(head) :]
    heads = text[text.index("Colour") : re.search(rf"{pattern.colours[0].letter} ", text).start()]
    units = re.findall(r"Knots|Balls|\b(?:m|yd|g|oz)\b|[A-Z]{3}\b", heads)
    numbers = rf"({_NUMBER})" + rf" ({_NUMBER})" * (len(units) - 1)
    names = {f"{one.letter} {one.name}": one.letter for one in pattern.colours}
    lines = []
    for match in re.finditer(
        rf"({'|'.join(map(re.escape, names))}|Together) {numbers}(?= |$)", text
    ):
        amounts = dict(zip(units, map(number, match.groups()[1:]), strict=True))
        if match[1] == "Together":
            return lines, Bought("", amounts)
        lines.append(Bought(names[match[1]], amounts))
    raise AssertionError(f"no end of the list: {text[:2000]}")
