"""Every printed word that the program supplies, from words/en.toml, by dotted name."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from publisher.errors import Place, Problem, TemplateError
from publisher.frozen import frozen
from publisher.manuscript.blocks import Text
from publisher.manuscript.markup import read_marks
from publisher.templates import Templates


@frozen
class Words:
    """Texts by dotted key (`materials.title`); `{names}` in them are filled in."""

    texts: Mapping[str, str]
    path: str
    language: str

    def __call__(self, key: str, **values: object) -> str:
        """The text of a key with its values; TemplateError if either is missing."""
        text = self._text(key)
        try:
            return text.format(**values)
        except (KeyError, IndexError, ValueError) as error:
            raise self._unfilled(key, error, values) from None

    def say(self, key: str, **values: object) -> Text:
        """The same with *strong* words and [links](#target) as spans."""
        text = self._text(key)
        try:
            return read_marks(text, **values)
        except (KeyError, IndexError, ValueError) as error:
            raise self._unfilled(key, error, values) from None

    def count(self, key: str, number: int, **values: object) -> str:
        """`key.one` or `key.many`, with {n} printed with its thousands parted."""
        return self(f"{key}.{'one' if number == 1 else 'many'}", n=f"{number:,}", **values)

    def has(self, key: str) -> bool:
        return key in self.texts

    def under(self, key: str) -> dict[str, str]:
        """All texts below a key, by the rest of their names."""
        dot = f"{key}."
        return {
            name.removeprefix(dot): text
            for name, text in self.texts.items()
            if name.startswith(dot)
        }

    def _text(self, key: str) -> str:
        text = self.texts.get(key)
        if text is None:
            raise self._error(f"the words for {key} are missing", f'add {key.split(".")[-1]} = "…"')
        return text

    def _unfilled(self, key: str, error: Exception, values: Mapping[str, object]) -> TemplateError:
        known = ", ".join("{" + name + "}" for name in values)
        hint = f"use only {known}" if known else "use no {names} there"
        return self._error(f"the words for {key} can't be filled in ({error})", hint)

    def _error(self, message: str, hint: str) -> TemplateError:
        return TemplateError(Problem(Place(self.path), message, hint))


def read_words(templates: Templates, language: str = "en") -> Words:
    """Flatten a word list's tables to dotted keys."""
    name = f"words/{language}.toml"
    table = templates.table(name)
    path = templates.file(name).path
    return Words(dict(_flat(table, "", path)), path, language)


def _flat(table: Mapping[str, Any], above: str, path: str) -> list[tuple[str, str]]:
    found: list[tuple[str, str]] = []
    for key, value in table.items():
        if isinstance(value, Mapping):
            found += _flat(value, f"{above}{key}.", path)
        elif isinstance(value, str):
            found.append((f"{above}{key}", value))
        else:
            raise TemplateError(
                Problem(Place(path), f"{above}{key} is not a text", "put it in quotation marks")
            )
    return found
