"""Every printed word that the program supplies, from words/en.toml, by dotted name."""

from __future__ import annotations

import tomllib
from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any, Self

from publisher.errors import Place, Problem, TemplateError
from publisher.frozen import frozen
from publisher.manuscript.blocks import Text
from publisher.manuscript.markup import fill, read_marks
from publisher.tables.findings import Findings, KeyPath
from publisher.tables.words import nearest, shown
from publisher.templates import TemplateFile, Templates

UNFILLED = (KeyError, ValueError)
"""What can come of names that are not known, and of braces that don't close."""


class Phrase(str):
    """A text as it is written, to be filled in where only the values are known: what goes wrong
    there is told like anything else of the word list."""

    __slots__ = ("file", "key")

    key: str
    file: TemplateFile

    @classmethod
    def of(cls, text: str, key: str, file: TemplateFile) -> Self:
        phrase = cls(text)
        phrase.key, phrase.file = key, file
        return phrase

    def format(self, *_: object, **values: object) -> str:
        """The text with its values; TemplateError if it names others."""
        try:
            return fill(self, **values)
        except UNFILLED as error:
            raise self.unfilled(error, values) from None

    def unfilled(self, error: Exception, values: Mapping[str, object]) -> TemplateError:
        known = ", ".join("{" + name + "}" for name in values)
        hint = f"use only {known}" if known else "use no {names} there"
        message = f"the words for {self.key} can't be filled in ({error})"
        return TemplateError(Problem(self.file.place(*self.key.split(".")), message, hint))


class Phrases(dict[str, Phrase]):
    """Texts by their names below some keys; MissingWordsError for one that is not there."""

    def __init__(self, texts: Mapping[str, Phrase], file: TemplateFile, *above: str) -> None:
        super().__init__(texts)
        self._file, self._above = file, above

    def __missing__(self, name: str) -> Phrase:
        keys = [f"{above}.{name}" for above in self._above] or [name]
        raise MissingWordsError.of(self._file, keys, name, self)


class MissingWordsError(TemplateError):
    """The word list lacks words. `ours`: the list that came with the package has them; if not,
    whoever asks for them may have got their name wrong."""

    ours = True
    asked = ""
    known: tuple[str, ...] = ()

    @classmethod
    def of(cls, file: TemplateFile, keys: Sequence[str], asked: str, known: Iterable[str]) -> Self:
        """`keys`: any of which would do."""
        ours = dict(flat(tomllib.loads(file.instead_of)))
        way, message, hint = missing_words(file, keys, ours)
        error = cls(Problem(file.place(*way), message, hint))
        error.ours, error.asked, error.known = not ours.keys().isdisjoint(keys), asked, tuple(known)
        return error

    def asked_for_at(self, place: Place) -> TemplateError:
        """The same, told of the line that asks for the words."""
        near = nearest(self.asked, self.known)
        hint = f"did you mean {near}?" if near else self.problems[0].hint
        return TemplateError(Problem(place, f"there are no words {self.asked}", hint))


def missing_words(
    file: TemplateFile, keys: Sequence[str], ours: Mapping[str, Any]
) -> tuple[KeyPath, str, str]:
    """Return where to do what: write the words, or mend their name if that is what went wrong."""
    key = next((key for key in keys if key in ours), keys[0])
    table, _, last = key.rpartition(".")
    message = f"the words for {key} are missing"
    strange = [name for name, _ in flat(tomllib.loads(file.text)) if name not in ours]
    beside = [name.rpartition(".")[2] for name in strange if name.rpartition(".")[0] == table]
    near = nearest(last, beside) if ours else None
    if near:
        return (*table.split("."), near), message, f"rename {near} to {last}"
    return tuple(key.split(".")), message, f'add {last} = "…" below [{table}]'


@frozen
class Words:
    """Texts by dotted key (`materials.title`); `{names}` in them are filled in."""

    texts: Phrases
    file: TemplateFile
    language: str

    def __call__(self, key: str, **values: object) -> str:
        """The text of a key with its values; TemplateError if either is missing."""
        return self.texts[key].format(**values)

    def say(self, key: str, **values: object) -> Text:
        """The same with *strong* words and [links](#target) as spans."""
        text = self.texts[key]
        try:
            return read_marks(text, **values)
        except UNFILLED as error:
            raise text.unfilled(error, values) from None

    def count(self, key: str, number: int, **values: object) -> str:
        """`key.one` or `key.many`, with {n} printed with its thousands parted."""
        return self(f"{key}.{'one' if number == 1 else 'many'}", n=f"{number:,}", **values)

    def has(self, key: str) -> bool:
        return key in self.texts

    def under(self, *keys: str) -> Phrases:
        """Return all texts below a key, by the rest of their names; of several, the later ones
        win."""
        found: dict[str, Phrase] = {}
        for dot in (f"{key}." for key in keys):
            found |= {
                name.removeprefix(dot): text
                for name, text in self.texts.items()
                if name.startswith(dot)
            }
        return Phrases(found, self.file, *keys)


def read_words(templates: Templates, language: str = "en") -> Words:
    """Flatten a word list's tables to dotted keys. TemplateError names all that are no texts."""
    name = f"words/{language}.toml"
    file = templates.file(name)
    found = dict(flat(templates.table(name)))
    wrong = [key for key, value in found.items() if not isinstance(value, str)]
    if wrong:
        findings = Findings()
        for key in wrong:
            path, what = tuple(key.split(".")), f"must be a text in quotes, not {shown(found[key])}"
            findings.add(file.path, path, f"`{path[-1]}` {what}", f'write {path[-1]} = "…"')
        raise templates.error(findings)
    texts = {key: Phrase.of(text, key, file) for key, text in found.items()}
    return Words(Phrases(texts, file), file, language)


def flat(table: Mapping[str, Any], above: str = "") -> Iterator[tuple[str, Any]]:
    """The values of a table and of those in it, by dotted key."""
    for key, value in table.items():
        if isinstance(value, Mapping):
            yield from flat(value, f"{above}{key}.")
        else:
            yield f"{above}{key}", value
