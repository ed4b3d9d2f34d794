"""The knot library: the package's knot files and the writer's own, read when first asked for."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path

from publisher.errors import Problem, SourceError
from publisher.knots.defaults import defaults
from publisher.knots.model import Knot
from publisher.knots.read import read_knot
from publisher.knots.words import NO_WORDS, with_words
from publisher.tables.text_files import read_text
from publisher.templates import KNOT_WORDS, TemplateFile, installed_folder

_FOLDER = Path(__file__).parent / "library"


class KnotLibrary(Mapping[str, Knot]):
    """Knots by name. It never changes; a package file is parsed when its knot is first read."""

    def __init__(
        self, own: Mapping[str, Knot] | None = None, words: TemplateFile | None = None
    ) -> None:
        self._own, self._words = dict(own or {}), words or installed_words()
        names = {*_package_names(), *self._own}
        order = defaults().order
        self._names = (*(n for n in order if n in names), *sorted(names - {*order}))

    def __getitem__(self, name: str) -> Knot:
        return self._own[name] if name in self._own else package_knot(name, self._words)

    def __iter__(self) -> Iterator[str]:
        return iter(self._names)

    def __len__(self) -> int:
        return len(self._names)

    def __contains__(self, name: object) -> bool:
        return name in self._names


@cache
def installed_words() -> TemplateFile:
    """The words that our knots come with."""
    path = installed_folder() / KNOT_WORDS
    return TemplateFile(read_text(path), str(path), as_installed=True)


def load_knots(
    own: Mapping[str, str] | None = None, words: TemplateFile | None = None
) -> KnotLibrary:
    """The package's knots, and those in the writer's files: `own` maps file names to their texts.

    A file `patterns/knots/my-knot.toml` gives the knot `my-knot`; one with a package knot's name
    takes its place. `words`: the word list of our knots; None, the one that they come with.
    SourceError holds every problem of every file.
    """
    words = words or installed_words()
    if not own:
        return KnotLibrary(words=words)
    from publisher.knots.inspect import inspect

    knots: dict[str, Knot] = {}
    problems: list[Problem] = []
    for file, text in own.items():
        name = file.replace("\\", "/").rsplit("/", 1)[-1].removesuffix(".toml")
        knot, found = read_knot(text, file, name, lambda of: package_knot(of, words), words)
        if knot is not None:
            found = inspect(knot, text, file)
            if not found:
                knots[name] = _as_tied(knot)
        problems += found
    if problems:
        raise SourceError(*problems)
    return KnotLibrary(knots, words)


def _as_tied(own: Knot) -> Knot:
    """A knot of the writer's own with what it takes; one with the name of one of ours that is tied
    or mounted goes on being tied as ours, and takes as much."""
    if is_ours(own.name):
        ours = package_knot(own.name)
        if ours.tying or ours.measures:
            return replace(own, tying=ours.tying, measures=ours.measures)
    return _measured(own)


def _measured(knot: Knot) -> Knot:
    """The knot with what it takes, measured in its drawing where its file names no formula."""
    if not knot.tying or knot.measures is not None:
        return knot
    from publisher.knots.tied import measure

    return replace(knot, measures=measure(knot))


def is_ours(name: str) -> bool:
    """Return whether the package has a knot of a name."""
    return name in _package_names()


def is_tied_as_ours(name: str) -> bool:
    """Return whether the package has a knot of a name that steps can tie."""
    return is_ours(name) and bool(package_knot(name).tying)


def names_of_ours(test: Callable[[Knot], object]) -> tuple[str, ...]:
    """The package's knots that pass a test, in their order. All of their files are read."""
    return tuple(name for name, knot in KnotLibrary(words=NO_WORDS).items() if test(knot))


@cache
def _package_names() -> tuple[str, ...]:
    return tuple(sorted(path.stem for path in _FOLDER.glob("*.toml")))


@cache
def package_knot(name: str, words: TemplateFile = NO_WORDS) -> Knot:
    """A knot of the package with its words from a list; KeyError if there is none of that name."""
    if not is_ours(name):
        raise KeyError(name)
    path = _FOLDER / f"{name}.toml"
    text = path.read_text("utf-8")
    knot, problems = read_knot(
        text, path.name, name, lambda of: package_knot(of, words), words, own=False
    )
    if knot is None:
        raise SourceError(*problems)
    return _measured(with_words(knot, words))
