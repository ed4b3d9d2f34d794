"""Say where in a template file a key stands, and which key was meant."""

from __future__ import annotations

from collections.abc import Iterable

from publisher.errors import Place
from publisher.templates import TemplateFile


def place_of(file: TemplateFile, *keys: str) -> Place:
    """The line of a key; of one that is missing, that of the table that lacks it."""
    from publisher.source.syntax_tree import Places

    return Place(file.path, Places(file.text).line(keys))


def nearest(name: str, known: Iterable[str]) -> str | None:
    """The known name that was most likely meant."""
    from publisher.source.words import nearest

    return nearest(name, known)
