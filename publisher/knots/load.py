"""The knot library: the package's knot files and the writer's own, read when first asked for."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path

from publisher.errors import Problem, SourceError
from publisher.knots.model import Knot
from publisher.knots.read import read_knot

_FOLDER = Path(__file__).parent / "library"
_ORDER = (
    "larks-head",
    "reverse-larks-head",
    "overhand",
    "overhand-extra-turn",
    "pair-tied-double-knot",
    "vertical-double-half-hitch",
    "horizontal-double-half-hitch",
    "diagonal-double-half-hitch",
    "gathering-double-half-hitch",
    "half-knot",
    "square-knot",
    "alternating-square-knots",
    "wrapping-knot",
    "berry-knot",
)
"""The order of a glossary: mounting, single cords, hitches, square knots; the rest by name."""


class KnotLibrary(Mapping[str, Knot]):
    """Knots by name. It never changes; a package file is parsed when its knot is first read."""

    def __init__(self, own: Mapping[str, Knot] | None = None) -> None:
        self._own = dict(own or {})
        names = {*_package_names(), *self._own}
        self._names = (*(n for n in _ORDER if n in names), *sorted(names - {*_ORDER}))

    def __getitem__(self, name: str) -> Knot:
        return self._own[name] if name in self._own else package_knot(name)

    def __iter__(self) -> Iterator[str]:
        return iter(self._names)

    def __len__(self) -> int:
        return len(self._names)

    def __contains__(self, name: object) -> bool:
        return name in self._names


def load_knots(own: Mapping[str, str] | None = None) -> KnotLibrary:
    """The package's knots, and those in the writer's files: `own` maps file names to their texts.

    A file `patterns/knots/my-knot.toml` gives the knot `my-knot`; one with a package knot's name
    takes its place. SourceError holds every problem of every file.
    """
    if not own:
        return KnotLibrary()
    from publisher.knots.inspect import inspect

    knots: dict[str, Knot] = {}
    problems: list[Problem] = []
    for file, text in own.items():
        name = file.replace("\\", "/").rsplit("/", 1)[-1].removesuffix(".toml")
        knot, found = read_knot(text, file, name, package_knot)
        if knot is not None:
            knots[name] = knot
            found = inspect(knot, text, file)
        problems += found
    if problems:
        raise SourceError(*problems)
    return KnotLibrary(knots)


@cache
def _package_names() -> tuple[str, ...]:
    return tuple(sorted(path.stem for path in _FOLDER.glob("*.toml")))


@cache
def package_knot(name: str) -> Knot:
    """A knot of the package; KeyError if there is none of that name."""
    if name not in _package_names():
        raise KeyError(name)
    path = _FOLDER / f"{name}.toml"
    knot, problems = read_knot(path.read_text("utf-8"), path.name, name, package_knot)
    if knot is None:
        raise SourceError(*problems)
    return knot
