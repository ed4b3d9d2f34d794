"""Say where a macro of a template stands, and how it has to begin."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from publisher.errors import Place, Problem
from publisher.tables.words import nearest
from publisher.templates import TemplateFile

_MACRO = re.compile(r"{%[-+]?\s*macro\s+(\w+)")


def head(macro: str, args: Mapping[str, Any]) -> str:
    """The line that a macro begins with, as it is called."""
    return f"{{% macro {macro}({', '.join(('x', 'y', *args))}) -%}}"


def place_of_macro(file: TemplateFile, macro: str) -> Place:
    """The line on which a macro begins; the file's first if it has none of that name."""
    for found in _MACRO.finditer(file.text):
        if found[1] == macro:
            return Place(file.path, file.text.count("\n", 0, found.start()) + 1)
    return Place(file.path, 1)


def missing_macro(file: TemplateFile, macro: str, args: Mapping[str, Any]) -> Problem:
    """Return what to do about a macro that is not there: perhaps it has another name now."""
    ours = _MACRO.findall(file.instead_of)
    others = [name for name in _MACRO.findall(file.text) if name not in ours]
    near = nearest(macro, others)
    message = f"the macro {macro} is missing"
    if near:
        return Problem(place_of_macro(file, near), message, f"rename {near} to {macro}")
    hint = f"write one that begins {head(macro, args)} and ends {{%- endmacro %}}"
    return Problem(Place(file.path, 1), message, hint)
