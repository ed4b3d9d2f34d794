"""Put words to a knot: its names, what is said of it, and what stands under each stage.

Our knots have them in the word list, a table a knot; a writer's own knot carries its own.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Any

from publisher.errors import SourceError, TemplateError
from publisher.knots.format import ListedWords, MirrorWords, WordsTable
from publisher.knots.model import Knot
from publisher.knots.reader import Reader
from publisher.tables.findings import KeyPath
from publisher.tables.locate import locate
from publisher.tables.reader import read_table
from publisher.tables.syntax import parse
from publisher.templates import TemplateFile

NO_WORDS = TemplateFile("", "")
"""For those who want a knot's geometry alone."""


def worded(knot: Knot, words: WordsTable) -> Knot:
    """The knot with the words of a table; what it leaves out stays as it is."""
    names = [field.name for field in dataclasses.fields(WordsTable)]
    said = {name: getattr(words, name) for name in names if getattr(words, name) is not None}
    for name in ("titles", "uses"):
        if name in said:
            said[name] = tuple(said[name])
    knot = replace(knot, **said)
    return knot if knot.titles else replace(knot, titles=(knot.name,))


def stages_worded(reader: Reader, knot: Knot, texts: Sequence[str] | None, key: KeyPath) -> Knot:
    """The knot with a text for each stage, if there are any."""
    if texts is None:
        return knot
    if len(texts) != len(knot.stages):
        hint = f"write {len(knot.stages)}"
        reader.problem(key, "there is not one text a stage", hint)
        return knot
    both = zip(knot.stages, texts, strict=True)
    return replace(knot, stages=tuple(replace(stage, words=text) for stage, text in both))


def with_words(knot: Knot, words: TemplateFile) -> Knot:
    """One of our knots with its words; TemplateError names each that is wrong in the list."""
    reader, at = Reader(words.path), (knot.name,)
    table = _tables(words).get(knot.name, {})
    if not isinstance(table, Mapping):
        reader.problem(at, f"`{knot.name}` must be a table", f"begin it with a line [{knot.name}]")
    else:
        said = read_table(ListedWords, table, words.path, reader.findings, at=at)
        if said:
            knot = worded(stages_worded(reader, knot, said.stages, (*at, "stages")), said)
    _refuse(reader, words)
    return knot


def mirror_words(words: TemplateFile) -> tuple[tuple[str, ...], tuple[tuple[str, str], ...]]:
    """The sides, and the pairs of words that change places when a knot is turned over."""
    reader, tables = Reader(words.path), _tables(words)
    names = [field.name for field in dataclasses.fields(MirrorWords)]
    said = {name: tables[name] for name in names if name in tables}
    table = read_table(MirrorWords, said, words.path, reader.findings) or MirrorWords()
    _refuse(reader, words)
    return tuple(table.sides), tuple(zip(table.faces[::2], table.faces[1::2], strict=False))


def _refuse(reader: Reader, words: TemplateFile) -> None:
    if reader.findings.found:
        raise TemplateError(*locate(reader.findings, {words.path: words.text}))


@lru_cache(maxsize=8)
def _tables(words: TemplateFile) -> dict[str, Any]:
    """A list's tables; what a writer's own leaves out is as in the one in whose place it is."""
    reader = Reader(words.path)
    try:
        hers, ours = parse(words.text, words.path), parse(words.instead_of, words.path)
    except SourceError as error:
        raise TemplateError(*error.problems) from None
    reader.known(hers, (), ours or hers)
    _refuse(reader, words)
    return ours | {
        name: ours.get(name, {}) | table if isinstance(table, dict) else table
        for name, table in hers.items()
    }
