"""Read written rows back: from a PDF's tags by another engine, plain text, the page for the bench.

Nothing here knows how the words were written: only what they say.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field, replace
from html.parser import HTMLParser

from tests.support.printed import elements, opened


@dataclass(frozen=True, slots=True)
class Act:
    """What a note asks for at a cord: `start`, `pick up`, `join` or `leave`.

    `length` and `tail` as they are told, "" where they are not; `row`: the row that the yarn hangs
    from; `behind`: first and last cord that it is carried behind.
    """

    kind: str
    yarn: str
    cord: int
    length: str = ""
    tail: str = ""
    row: int | None = None
    behind: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True)
class ToldRow:
    row: int
    start: str
    runs: tuple[tuple[int, str], ...]
    acts: tuple[Act, ...] = ()


@dataclass(slots=True)
class ToldPiece:
    """The rows of a piece. `name`: what stands over them, where there are several pieces.

    `full`: the length that is taken where a note tells none. `unnamed`: is it told which yarn is
    taken without a note? `named_row`: the row by which it is told what naming one means, 0 if it is
    not.
    """

    name: str = ""
    full: str = ""
    unnamed: bool = False
    named_row: int = 0
    rows: list[ToldRow] = field(default_factory=list)


_YARN = r"(?P<yarn>[^\s,;]\d+)"
_LENGTH = r"[\d½¼¾⅛⅜⅝⅞.]+(?:cm|in)"
_FROM = r"(?:fromrow(?P<row>\d+))?"
_SAID = {
    kind: [re.compile(form) for form in forms]
    for kind, forms in {
        "start": (
            rf"start{_YARN}(?:\((?P<length>{_LENGTH})\))?,(?P<tail>{_LENGTH})attheback",
            rf"start{_YARN}(?:,(?P<length>{_LENGTH}))?",
        ),
        "pick up": (
            rf"pickup{_YARN}{_FROM}"
            r"(?:,carrybehind(?:cord(?P<only>\d+)|cords(?P<first>\d+)to(?P<last>\d+)))?",
            rf"pickup{_YARN}{_FROM}(?:\((?:(?P<only>\d+)|(?P<first>\d+)–(?P<last>\d+))\))?",
        ),
        "join": (
            rf"joinanewlengthof{_YARN}(?:\((?P<length>{_LENGTH})\))?,tails(?P<tail>{_LENGTH})",
            rf"join{_YARN}(?:,(?P<length>{_LENGTH}))?",
        ),
        "leave": (
            rf"leave{_YARN}here,(?P<tail>{_LENGTH})attheback",
            rf"leave{_YARN}",
        ),
    }.items()
}
"""The sentences, in full and in brief, their blanks taken out: lines may break anywhere."""
_RUN = re.compile(r"(\d+)\s(\S)(?=,|$)")
_FULL = re.compile(rf"Takealengthof({_LENGTH})wherenoneistold")
_UNNAMED = "Withoutanote,taketheyarnthathangsrighttherefromtherowabove."
_NAMED = re.compile(r"Whereanotesaysfromrow(\d+),taketheyarnlastknottedinrow(\d+)\.")
_TITLE = re.compile(r"Rows? \d+(?: to \d+)?(?: · (.+))?")


def bare(text: str) -> str:
    return "".join(text.split())


def millimetres(length: str) -> float:
    """A length as it is told, `75cm` or `29½in`, in mm."""
    number, unit = length[:-2], length[-2:]
    parts = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅛": 0.125, "⅜": 0.375, "⅝": 0.625, "⅞": 0.875}
    value = float(number.rstrip("".join(parts)) or 0) + parts.get(number[-1], 0.0)
    return value * {"cm": 10.0, "in": 25.4}[unit]


def act_of(cord: int, words: str) -> Act:
    """A note's sentence, all of it; AssertionError if it says anything else."""
    for kind, forms in _SAID.items():
        for form in forms:
            if found := form.fullmatch(bare(words)):
                told = found.groupdict()
                only, first, last = (told.get(key) for key in ("only", "first", "last"))
                ends = (only or first, only or last)
                return Act(
                    kind,
                    told["yarn"],
                    cord,
                    told.get("length") or "",
                    told.get("tail") or "",
                    int(told["row"]) if told.get("row") else None,
                    (int(ends[0]), int(ends[1])) if ends[0] and ends[1] else None,
                )
    raise AssertionError(f"a maker can't tell what to do: {words!r}")


def runs_of(words: str) -> tuple[tuple[int, str], ...]:
    return tuple((int(count), letter) for count, letter in _RUN.findall(words.strip()))


def rows_in_pdf(pdf: bytes) -> list[ToldPiece]:
    """The rows of every piece, by a PDF's tags: what a screen reader reads."""
    with opened(pdf) as document:
        found = [one for page in document for one in elements(page)]
    return list(_pieces((one.role, one.text.replace("\u00a0", " ")) for one in found))


_HEAD = re.compile(r"(\d+) ?([→←]) ?(.*)", re.DOTALL)
_IN_BRIEF = re.compile(r"(\d+)((?:start|pickup|join|leave)[^;]*)(?:;|$)")


def _pieces(tagged: Iterable[tuple[str, str]]) -> Iterator[ToldPiece]:
    piece, cord, in_row, name = ToldPiece(), 0, False, ""
    for role, text in tagged:
        if _UNNAMED in bare(text):
            if piece.rows:
                yield piece
            piece = _begun(name, bare(text))
        elif head := _HEAD.fullmatch(text.strip()):
            number, in_row = int(head[1]), True
            if head[3].strip() == "continued":
                assert piece.rows[-1].row == number
                continue
            start = "left" if head[2] == "→" else "right"
            piece.rows.append(ToldRow(number, start, runs_of(head[3])))
        elif role in ("H1", "H2"):
            title = _TITLE.fullmatch(text.strip())
            in_row, name = bool(title), title[1] or "" if title else ""
        elif in_row and role == "Lbl":
            cord = int(text)
        elif in_row and role == "LBody":
            _add(piece, act_of(cord, text))
        elif in_row and _IN_BRIEF.match(bare(text)):
            notes = list(_IN_BRIEF.finditer(bare(text)))
            assert "".join(note[0] for note in notes) == bare(text), text
            for note in notes:
                _add(piece, act_of(int(note[1]), note[2]))
        else:
            in_row = False
    if piece.rows:
        yield piece


def _begun(name: str, introduced: str) -> ToldPiece:
    full, named = _FULL.search(introduced), _NAMED.search(introduced)
    row = int(named[1]) if named and named[1] == named[2] else 0
    return ToldPiece(name, full[1] if full else "", _UNNAMED in introduced, row)


def _add(piece: ToldPiece, act: Act) -> None:
    row = piece.rows[-1]
    piece.rows[-1] = replace(row, acts=(*row.acts, act))


_ROW = re.compile(r"Row (\d+), from the (left|right): (.*)", re.DOTALL)
_AT_CORD = re.compile(r"at cord (\d+): (.*)", re.DOTALL)


def rows_in_text(text: str) -> list[ToldPiece]:
    """The rows of every piece, from a book in plain text."""
    pieces, name = [], ""
    for block in text.split("\n\n"):
        if title := _TITLE.fullmatch(block.strip("\n").split("\n")[0]):
            name = title[1] or ""
        if _UNNAMED in bare(block):
            pieces.append(_begun(name, bare(block)))
        lines = block.strip("\n").split("\n    ")
        head = _ROW.fullmatch(" ".join(lines[0].split()))
        if head is None:
            continue
        notes: list[str] = []
        for line in lines[1:]:
            if line.startswith("at cord "):
                notes.append(line)
            else:
                notes[-1] += " " + line.strip()
        acts = tuple(act_at(note) for note in notes)
        pieces[-1].rows.append(ToldRow(int(head[1]), head[2], runs_of(head[3]), acts))
    return pieces


def act_at(words: str) -> Act:
    """A note that says itself at which cord."""
    found = _AT_CORD.fullmatch(words.strip())
    assert found, words
    return act_of(int(found[1]), found[2])


class _Bench(HTMLParser):
    """The rows and runs of a page for the bench, and where each run lies in the chart."""

    def __init__(self) -> None:
        super().__init__()
        self.pieces: list[ToldPiece] = []
        self._left = 0.0
        self._depth = ""
        self._words = ""
        self._run: tuple[float, float] = (0.0, 0.0)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        data = {name: value or "" for name, value in attrs}
        if tag == "section" and "data-piece" in data:
            self.pieces.append(ToldPiece())
        elif tag == "svg" and "data-left" in data:
            self._left = float(data["data-left"])
        elif tag == "li" and "data-start" in data:
            row = ToldRow(len(self.pieces[-1].rows) + 1, data["data-start"], ())
            self.pieces[-1].rows.append(row)
        elif tag == "li" and "data-left" in data:
            self._run = float(data["data-left"]), float(data["data-width"])
            self._depth, self._words = "run", ""
        elif tag == "ul" and self._depth == "name":
            self._depth = "notes"
        elif tag == "li" and self._depth == "notes":
            self._words = ""
        elif tag == "span" and self._depth == "run":
            count, letter = self._words.split()
            row = self.pieces[-1].rows[-1]
            self.pieces[-1].rows[-1] = replace(row, runs=(*row.runs, (int(count), letter)))
            self._depth = "name"

    def handle_data(self, data: str) -> None:
        self._words += data

    def handle_endtag(self, tag: str) -> None:
        if tag == "li" and self._depth == "notes":
            _add(self.pieces[-1], act_at(" ".join(self._words.split())))
            self._check(self.pieces[-1].rows[-1].acts[-1])
        elif tag == "ul" and self._depth == "notes":
            self._depth = ""

    def _check(self, act: Act) -> None:
        """A note stands at the run that the chart has at its cord."""
        left, width = self._run
        count = self.pieces[-1].rows[-1].runs[-1][0]
        before = (left - self._left) / (width / count)
        assert round(before) < act.cord <= round(before) + count, act


def rows_on_bench(page: str) -> list[ToldPiece]:
    """The rows of every piece, from the page to work from, and below the work how they are read."""
    bench = _Bench()
    bench.feed(page)
    read = re.findall(r"<h2>The rows in words(?: · ([^<]*))?</h2>\s*<p>(.*?)</p>", page, re.DOTALL)
    for piece, (name, words) in zip(bench.pieces, read, strict=True):
        introduced = _begun(name, bare(re.sub(r"<[^>]*>", "", words)))
        piece.name, piece.full = introduced.name, introduced.full
        piece.unnamed, piece.named_row = introduced.unnamed, introduced.named_row
    return bench.pieces
