"""Say which libraries a target was made with: with another version of one, it is made anew."""

from __future__ import annotations

import os
import sys
from collections.abc import Iterable, Mapping
from contextlib import suppress
from functools import cache
from pathlib import PurePosixPath
from typing import TYPE_CHECKING

from publisher.catalogue.build.values import COMPANIONS, FIGURES, Made
from publisher.templates import TemplateFile

if TYPE_CHECKING:
    from publisher.model.plan import Plan

ALWAYS = ("deflate", "jinja2", "markupsafe", "rustworkx", "svgwrite", "uharfbuzz")
"""They make every book: their versions are part of the program's digest."""
KNOT_DRAWING = ("svgwrite", "uharfbuzz")
"""Of those, the libraries that draw knots."""
_GRADIENTS = ("cairocffi", "cairosvg", "pypdf", "tinycss2")
_IMAGES = ("numpy", "pillow")
_LARGE = ("numpy", "scipy")
_PIXELS = ("pillow", "pypdfium2")
_COLOUR_NAMES = ("tinycss2",)
SOMETIMES = tuple(sorted({*_GRADIENTS, *_IMAGES, *_LARGE, *_PIXELS, *_COLOUR_NAMES}))

LARGE_RUNS = 1_500
"""Charts of fewer runs are planned without the library for large assignments: a run is in two
nodes at most, and 3,162 nodes are worth loading it (`plan.routing.matching`)."""

_PICTURES = frozenset({".png", ".jpg", ".jpeg", ".webp", ".bmp", ".gif", ".tif", ".tiff"})
_RECORDS = (".dist-info", ".egg-info")


def libraries_of(
    made: Made, sources: Iterable[str], files: Mapping[str, TemplateFile], *, large: bool
) -> tuple[str, ...]:
    """The libraries, beside those of every book, that a target was made with, sorted.

    `sources`: the names of the pattern's files; `files`: all templates; `large`: a chart is.
    """
    found = page_libraries(made.templates, files)
    if large:
        found.update(_LARGE)
    if any(PurePosixPath(name).suffix.lower() in _PICTURES for name in sources):
        found.update(_IMAGES)
    if made.target == COMPANIONS:
        found.update(_PIXELS)
    if made.target == FIGURES and any(name.endswith(".png") for name in made.files or ()):
        found.update(_GRADIENTS)
    return tuple(sorted(found))


def page_libraries(templates: Iterable[str], files: Mapping[str, TemplateFile]) -> set[str]:
    """The libraries, beside those of every book, that draw pages of these templates."""
    used = [files[name] for name in templates if name in files]
    found: set[str] = set()
    if any("Gradient" in file.text for file in used):
        found.update(_GRADIENTS)
    if any("<image" in file.text for file in used):
        found.update(_IMAGES)
    if any(not file.as_installed for file in used):
        found.update(_COLOUR_NAMES)
    return found


def is_large(plan: Plan) -> bool:
    """Return whether the routes of a chart may have been found by the library for large
    assignments."""
    return any(sum(len(row.runs) for row in chart.row_list) > LARGE_RUNS for chart in plan.charts)


@cache
def versions() -> Mapping[str, str]:
    """`NAME-VERSION` of each library that is installed, by name, as its record among the installed
    packages is called.

    The records' names alone are read: the standard library's reader of what is in them takes
    longer to import than a page to draw.
    """
    known = {*ALWAYS, *SOMETIMES}
    found: dict[str, str] = {}
    for folder in sys.path:
        with suppress(OSError):
            for name in sorted(os.listdir(folder or ".")):  # noqa: PTH208
                library = name.partition("-")[0].lower()
                if name.endswith(_RECORDS) and library in known:
                    found.setdefault(library, name)
    return found
