"""Look a writer's word list over: what it lacks, what nothing prints, what can't be filled in."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from string import Formatter

from publisher.errors import Problem, TemplateError
from publisher.manuscript.words import flat, missing_words, read_words
from publisher.tables.findings import Findings, KeyPath
from publisher.tables.words import nearest
from publisher.templates import TemplateFile, Templates

_FILE = "words/en.toml"


def lint_words(templates: Templates) -> Sequence[Problem]:
    """Return all that is wrong in the list, as far as that can be known before it is printed."""
    file = templates.file(_FILE)
    try:
        read_words(templates)
        hers: dict[str, str] = dict(flat(templates.table(_FILE)))
    except TemplateError as error:
        return error.problems
    findings = Findings()
    for key, what, hint in _unclosed(hers):
        findings.add(file.path, tuple(key.split(".")), what, hint)
    if file.instead_of:
        ours = dict(flat(tomllib.loads(file.instead_of)))
        for way, what, hint in _other(file, hers, ours, _own(templates)):
            findings.add(file.path, way, what, hint)
    return templates.error(findings).problems


def _own(templates: Templates) -> str:
    """Return all that the writer's own templates say, which may print words of her own."""
    return "\n".join(
        file.text
        for name, file in templates.files.items()
        if name.endswith((".svg", ".html")) and not file.as_installed
    )


def _unclosed(words: Mapping[str, str]) -> Iterator[tuple[str, str, str]]:
    for key, text in words.items():
        try:
            list(Formatter().parse(text))
        except ValueError as error:
            message = f"the words for {key} can't be filled in ({error})"
            yield key, message, "close each { with a }"


def _other(
    file: TemplateFile, hers: Mapping[str, str], ours: Mapping[str, str], templates: str
) -> Iterator[tuple[KeyPath, str, str]]:
    """Yield what the list that came with the package has and hers has not, and the other way
    round."""
    tables = {_table(key) for key in hers}
    lacking = [key for key in ours if key not in hers]
    told = [missing_words(file, [key], ours) for key in lacking if _table(key) in tables]
    yield from told
    for table in dict.fromkeys(map(_table, lacking)):
        if table not in tables:
            hint = f"copy [{table}] from the list that came with the program"
            yield tuple(table.split(".")), f"all words below [{table}] are missing", hint
    renamed = {way for way, _, _ in told}
    for key in hers:
        way = tuple(key.split("."))
        if key not in ours and way not in renamed and not re.search(rf"\b{way[-1]}\b", templates):
            near = nearest(key, lacking)
            hint = f"did you mean {near}?" if near else "take them out"
            yield way, f"nothing prints the words for {key}", hint


def _table(key: str) -> str:
    return key.rpartition(".")[0]
