"""Every printed word that the program supplies, from words/en.toml, by dotted name."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Self

from publisher.errors import Place, Problem, TemplateError
from publisher.frozen import frozen
from publisher.manuscript.blocks import Text
from publisher.manuscript.markup import read_marks
from publisher.templates import Templates

_UNFILLED = (KeyError, IndexError, ValueError, AttributeError)
"""What can come of names that are not known, and of braces that don't close."""


class Phrase(str):
    """A text as it is written, to be filled in where only the values are known: what goes wrong
    there is told like anything else of the word list."""

    key: str
    path: str

    @classmethod
    def of(cls, text: str, key: str, path: str) -> Self:
        phrase = cls(text)
        phrase.key, phrase.path = key, path
        return phrase

    def format(self, *given: object, **values: object) -> str:
        """The text with its values; TemplateError if it names others."""
        try:
            return super().format(*given, **values)
        except _UNFILLED as error:
            raise self.unfilled(error, values) from None

    def unfilled(self, error: Exception, values: Mapping[str, object]) -> TemplateError:
        known = ", ".join("{" + name + "}" for name in values)
        hint = f"use only {known}" if known else "use no {names} there"
        return _error(self.path, f"the words for {self.key} can't be filled in ({error})", hint)


class Phrases(dict[str, Phrase]):
    """Texts by their names below some keys; TemplateError for one that is not there."""

    def __init__(self, texts: Mapping[str, Phrase], path: str, *keys: str) -> None:
        super().__init__(texts)
        self._path, self._keys = path, keys

    def __missing__(self, name: str) -> Phrase:
        either = " or ".join(f"{key}.{name}" for key in self._keys) or name
        hint = f'add {name.rpartition(".")[2]} = "…"'
        raise _error(self._path, f"the words for {either} are missing", hint)


@frozen
class Words:
    """Texts by dotted key (`materials.title`); `{names}` in them are filled in."""

    texts: Phrases
    path: str
    language: str

    def __call__(self, key: str, **values: object) -> str:
        """The text of a key with its values; TemplateError if either is missing."""
        return self.texts[key].format(**values)

    def say(self, key: str, **values: object) -> Text:
        """The same with *strong* words and [links](#target) as spans."""
        text = self.texts[key]
        try:
            return read_marks(text, **values)
        except _UNFILLED as error:
            raise text.unfilled(error, values) from None

    def count(self, key: str, number: int, **values: object) -> str:
        """`key.one` or `key.many`, with {n} printed with its thousands parted."""
        return self(f"{key}.{'one' if number == 1 else 'many'}", n=f"{number:,}", **values)

    def has(self, key: str) -> bool:
        return key in self.texts

    def under(self, *keys: str) -> Phrases:
        """All texts below a key, by the rest of their names; of several, the later ones win."""
        found: dict[str, Phrase] = {}
        for dot in (f"{key}." for key in keys):
            found |= {
                name.removeprefix(dot): text
                for name, text in self.texts.items()
                if name.startswith(dot)
            }
        return Phrases(found, self.path, *keys)


def read_words(templates: Templates, language: str = "en") -> Words:
    """Flatten a word list's tables to dotted keys."""
    name = f"words/{language}.toml"
    table = templates.table(name)
    path = templates.file(name).path
    texts = {key: Phrase.of(text, key, path) for key, text in _flat(table, "", path)}
    return Words(Phrases(texts, path), path, language)


def _flat(table: Mapping[str, Any], above: str, path: str) -> list[tuple[str, str]]:
    found: list[tuple[str, str]] = []
    for key, value in table.items():
        if isinstance(value, Mapping):
            found += _flat(value, f"{above}{key}.", path)
        elif isinstance(value, str):
            found.append((f"{above}{key}", value))
        else:
            raise _error(path, f"{above}{key} is not a text", "put it in quotation marks")
    return found


def _error(path: str, message: str, hint: str) -> TemplateError:
    return TemplateError(Problem(Place(path), message, hint))
