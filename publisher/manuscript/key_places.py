"""Say where in a template file a key stands."""

from __future__ import annotations

from publisher.errors import Place
from publisher.templates import TemplateFile


def place_of(file: TemplateFile, *keys: str | int) -> Place:
    """The line of a key; of one that is missing, that of the table that lacks it."""
    from publisher.tables.places import line_of

    return Place(file.path, line_of(file.text, keys))
