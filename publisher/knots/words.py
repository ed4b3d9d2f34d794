"""Put words to a knot: its names, what is said of it, and what stands under each stage.

Our knots have them in the word list, a table a knot; a writer's own knot carries its own.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from typing import Any

from publisher.errors import SourceError, TemplateError
from publisher.knots.model import Knot, Stage
from publisher.knots.reader import Reader, folded
from publisher.tables.findings import KeyPath
from publisher.tables.syntax import parse
from publisher.templates import TemplateFile

WORD_KEYS = ("titles", "with_article", "abbreviation", "way", "intro", "check", "uses")
NO_WORDS = TemplateFile("", "")
"""For those who want a knot's geometry alone."""


def read_words(
    reader: Reader, table: Mapping[str, Any], key: KeyPath, knot: Knot, *, needed: bool = False
) -> Knot:
    """The knot with the words of a table at a key; what it leaves out stays as it is, unless it is
    needed."""

    def text(name: str, usual: str | None) -> str:
        return folded(reader.take(table, (*key, name), str, usual))

    titles = reader.texts(table, (*key, "titles"), None if needed else knot.titles)
    return replace(
        knot,
        titles=titles or (knot.name,),
        with_article=text("with_article", knot.with_article),
        abbreviation=text("abbreviation", knot.abbreviation),
        way=text("way", knot.way),
        intro=text("intro", None if needed else knot.intro),
        check=text("check", knot.check),
        uses=reader.texts(table, (*key, "uses"), knot.uses),
    )


def read_stage_words(
    reader: Reader, table: Mapping[str, Any], key: KeyPath, stages: tuple[Stage, ...]
) -> tuple[Stage, ...]:
    """The stages with the list of texts at a key, where there is one."""
    name = str(key[-1])
    if name not in table:
        return stages
    texts = reader.texts(table, key, ())
    if len(texts) != len(stages):
        reader.problem(key, "there is not one text a stage", f"write {len(stages)}")
        return stages
    return tuple(
        replace(stage, words=folded(text)) for stage, text in zip(stages, texts, strict=True)
    )


def with_words(knot: Knot, words: TemplateFile) -> Knot:
    """One of our knots with its words; TemplateError names each that is wrong in the list."""
    reader, key = Reader(words.text, words.path), (knot.name,)
    table = reader.take(_tables(words), key, dict, {})
    reader.known(table, key, (*WORD_KEYS, "stages"))
    stages = read_stage_words(reader, table, (*key, "stages"), knot.stages)
    knot = replace(read_words(reader, table, key, knot), stages=stages)
    if reader.problems:
        raise TemplateError(*reader.problems)
    return knot


def mirror_words(words: TemplateFile) -> tuple[tuple[str, ...], tuple[tuple[str, str], ...]]:
    """The sides, and the pairs of words that change places when a knot is turned over."""
    reader = Reader(words.text, words.path)
    sides, faces = (reader.texts(_tables(words), (key,), ()) for key in ("sides", "faces"))
    if reader.problems:
        raise TemplateError(*reader.problems)
    return sides, tuple(zip(faces[::2], faces[1::2], strict=False))


@lru_cache(maxsize=8)
def _tables(words: TemplateFile) -> dict[str, Any]:
    """A list's tables; what a writer's own leaves out is as in the one in whose place it is."""
    reader = Reader(words.text, words.path)
    try:
        hers, ours = parse(words.text, words.path), parse(words.instead_of, words.path)
    except SourceError as error:
        raise TemplateError(*error.problems) from None
    reader.known(hers, (), tuple(ours or hers))
    if reader.problems:
        raise TemplateError(*reader.problems)
    return ours | {
        name: ours.get(name, {}) | table if isinstance(table, dict) else table
        for name, table in hers.items()
    }
