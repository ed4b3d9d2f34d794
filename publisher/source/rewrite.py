"""Put another chart, and other colours, into a pattern's text; all the rest stays to the byte."""

from __future__ import annotations

import tomllib
import unicodedata
from collections.abc import Collection, Iterator, Sequence
from typing import TYPE_CHECKING, Any, NamedTuple

from publisher.errors import Place, Problem, SourceError
from publisher.frozen import frozen
from publisher.model.pattern import ChartPiece, Pattern, YarnColour
from publisher.source.newchart import chart_text, colour_table
from publisher.tables.places import Places, key_parts, tree
from publisher.tables.text_files import MARK, as_read

if TYPE_CHECKING:
    from tree_sitter import Node


@frozen
class Change:
    """A change to put into a file. `stay`: letters of the colours that stay beside those that
    something else needs; None: all stay."""

    rows: tuple[str, ...]
    new_colours: tuple[YarnColour, ...]
    stay: frozenset[str] | None


def first_chart(pattern: Pattern) -> ChartPiece | None:
    """The piece whose chart is replaced."""
    return pattern.charts[0] if pattern.charts else None


def letters_in_use(pattern: Pattern, raw: str) -> frozenset[str]:
    """The colours' letters that something else than the first chart's cells needs."""
    target = first_chart(pattern)
    others = [piece for piece in pattern.charts if piece is not target]
    used = {letter for piece in others for row in piece.cells for letter in row}
    used |= {piece.cords.colour for piece in others}
    return frozenset(used | {*_named_colours(tomllib.loads(as_read(raw)).get("pieces", []))})


def rewrite(raw: str, pattern: Pattern, change: Change) -> str:
    """The file's new text. `raw`: as it is, line ends and all. SourceError where its way of
    writing colours or charts can't be changed piece by piece."""
    mark, raw = (MARK, raw[1:]) if raw.startswith(MARK) else ("", raw)
    newline = "\r\n" if "\r\n" in raw else "\n"
    source = raw.encode()
    edits = [_chart_edit(raw, source, pattern, change)]
    kept = None if change.stay is None else change.stay | letters_in_use(pattern, raw)
    if change.new_colours or (kept is not None and {c.letter for c in pattern.colours} - kept):
        edits += _colour_edits(source, pattern, change.new_colours, kept)
    for edit in sorted(edits, reverse=True):
        inserted = edit.text.replace("\n", newline).encode()
        source = source[: edit.start] + inserted + source[edit.stop :]
    changed = source.decode()
    _check(raw, changed, pattern)
    return mark + changed


class _Edit(NamedTuple):
    start: int
    stop: int
    text: str


def _chart_edit(raw: str, source: bytes, pattern: Pattern, change: Change) -> _Edit:
    target = first_chart(pattern)
    index = next(i for i, piece in enumerate(pattern.pieces) if piece is target)
    places, text = Places(raw), chart_text(change.rows)
    chart = places.value(("pieces", index, "chart"))
    if chart is not None:
        return _Edit(chart.start_byte, chart.end_byte, text)
    picture = places.value(("pieces", index, "chart_file"))
    pair = picture.parent if picture is not None else None
    if pair is None or pair.type != "pair":
        raise _not_piecemeal(pattern)
    return _Edit(pair.start_byte, pair.end_byte, f"chart = {text}")


def _colour_edits(
    source: bytes,
    pattern: Pattern,
    new_colours: Sequence[YarnColour],
    kept: Collection[str] | None,
) -> Iterator[_Edit]:
    """Old colours out, all but the kept ones (None: all are kept); new ones in their place."""
    tables = _colour_tables(source)
    if {letter for letter, _, _ in tables} != {colour.letter for colour in pattern.colours}:
        raise _not_piecemeal(pattern)
    text = "\n".join(colour_table(colour) for colour in new_colours)
    gone = [table for table in tables if kept is not None and table.letter not in kept]
    if not gone:
        end = tables[-1].stop
        gap = "" if source[:end].endswith(b"\n") else "\n"
        yield _Edit(end, end, f"{gap}\n{text}" if text else "")
        return
    for number, table in enumerate(gone):
        put = text if number == 0 else ""
        stop = table.stop if put else _past_blank_lines(source, table.stop)
        yield _Edit(table.start, stop, put)


class _Table(NamedTuple):
    """A colour's lines: from its header to its last value, line end included."""

    letter: str
    start: int
    stop: int


def _colour_tables(source: bytes) -> list[_Table]:
    tables = []
    for node in tree(source.decode()).children:
        if node.type == "table":
            names = [key_parts(child) for child in node.children if child.type.endswith("_key")]
            if names and len(names[0]) >= 2 and names[0][0] == "colours":
                letter = unicodedata.normalize("NFC", names[0][1])
                tables.append(_Table(letter, *_lines(source, node)))
    return tables


def _lines(source: bytes, node: Node) -> tuple[int, int]:
    """The whole lines of a table without what follows its last value."""
    last = [child for child in node.children if child.type in ("pair", "]")][-1]
    start = source.rfind(b"\n", 0, node.start_byte) + 1
    stop = source.find(b"\n", last.end_byte)
    return start, len(source) if stop < 0 else stop + 1


def _past_blank_lines(source: bytes, at: int) -> int:
    while True:
        stop = source.find(b"\n", at)
        if stop < 0 or source[at:stop].strip():
            return at
        at = stop + 1


def _named_colours(value: Any) -> Iterator[str]:
    """Every `colour = "N"` in tables and lists."""
    if isinstance(value, dict):
        for key, inner in value.items():
            if key == "colour" and isinstance(inner, str):
                yield inner
            else:
                yield from _named_colours(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from _named_colours(inner)


def _check(raw: str, changed: str, pattern: Pattern) -> None:
    """Check that all but the chart and the colours is what it was, as TOML reads it."""
    try:
        before, after = (_others(text, pattern) for text in (raw, changed))
    except (tomllib.TOMLDecodeError, RecursionError):
        raise _not_piecemeal(pattern) from None
    if before != after:
        raise _not_piecemeal(pattern)


def _others(text: str, pattern: Pattern) -> dict[str, Any]:
    data = tomllib.loads(as_read(text))
    data.pop("colours", None)
    target = first_chart(pattern)
    index = next(i for i, piece in enumerate(pattern.pieces) if piece is target)
    for key in ("chart", "chart_file"):
        data["pieces"][index].pop(key, None)
    return data


def _not_piecemeal(pattern: Pattern) -> SourceError:
    message = "the chart or the colours are written in a way that can't be replaced alone"
    hint = "write each colour under a line [colours.N], and chart = on a line of its own"
    return SourceError(Problem(Place(pattern.path), message, hint))
