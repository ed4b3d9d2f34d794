"""Take in svgwrite's elements without its validator, whose tables take longer to load than a page
to draw. An `unchecked` element never asks it anything."""

from __future__ import annotations

import sys
from collections.abc import Mapping
from functools import cache
from importlib import import_module
from types import ModuleType
from typing import Any, TypeVar

_VALIDATOR = "svgwrite.validator2"


def _get_validator(profile: str, debug: bool = True) -> Any:
    """In place of svgwrite's own, which comes in for the first element that is to be checked."""
    return import_module(_VALIDATOR).get_validator(profile, debug) if debug else None


def _lighten() -> bool:
    """Let a stand-in take the validator's place while svgwrite is imported, if it is not yet."""
    if _VALIDATOR in sys.modules:
        return False
    stand_in: Any = ModuleType(_VALIDATOR)
    stand_in.get_validator = _get_validator
    sys.modules[_VALIDATOR] = stand_in
    return True


_lightened = _lighten()

from svgwrite.base import BaseElement  # noqa: E402
from svgwrite.container import Group  # noqa: E402
from svgwrite.params import Parameter  # noqa: E402
from svgwrite.path import Path  # noqa: E402
from svgwrite.text import Text  # noqa: E402

if _lightened:
    del sys.modules[_VALIDATOR]

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
