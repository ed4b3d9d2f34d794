"""Take in svgwrite's elements without what they load and drawings never ask for: its validator,
whose tables take longer to load than a page to draw, and the standard library's way to the web.
An `unchecked` element asks neither for anything."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from functools import cache
from importlib import import_module
from types import ModuleType
from typing import Any, TypeVar


def _get_validator(profile: str, debug: bool = True) -> Any:
    """In place of svgwrite's own, which comes in for the first element that is to be checked."""
    return import_module("svgwrite.validator2").get_validator(profile, debug) if debug else None


def _urlopen(*given: Any, **named: Any) -> Any:
    """In place of the library's own, which comes in for the first font that is to be embedded."""
    return import_module("urllib.request").urlopen(*given, **named)


_STAND_INS = {
    "svgwrite.validator2": {"get_validator": _get_validator},
    "urllib.request": {"urlopen": _urlopen},
}


@contextmanager
def _lightened() -> Iterator[None]:
    """Let stand-ins take the places of modules that are not there yet, while svgwrite comes in."""
    placed = {}
    for name, functions in _STAND_INS.items():
        if name not in sys.modules:
            placed[name] = sys.modules[name] = ModuleType(name)
            vars(placed[name]).update(functions)
    try:
        yield
    finally:
        for name, stand_in in placed.items():
            if sys.modules.get(name) is stand_in:
                del sys.modules[name]


with _lightened():
    from svgwrite.base import BaseElement
    from svgwrite.container import Group
    from svgwrite.params import Parameter
    from svgwrite.path import Path
    from svgwrite.text import Text

__all__ = ["BaseElement", "Group", "Path", "Text", "unchecked"]

_Element = TypeVar("_Element", bound=BaseElement)


class _Unchecked:
    """What svgwrite takes an element's settings from."""

    _parameter = Parameter(debug=False)


_UNCHECKED = _Unchecked()


def unchecked(kind: type[_Element], attributes: Mapping[str, str], *content: str) -> _Element:
    """An element with attributes, named as svgwrite takes them: `stroke_width` or `stroke-width`;
    `content`: a path's data, or a text's words."""
    made: _Element = kind(*content, factory=_UNCHECKED)
    made.attribs = {_svg_name(name): value for name, value in attributes.items()}
    return made


@cache
def _svg_name(name: str) -> str:
    return name.rstrip("_").replace("_", "-")
