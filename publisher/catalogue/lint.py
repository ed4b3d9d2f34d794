"""Look a writer's templates over, all of them, whether a book of today needs them or not."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

from publisher.catalogue.calls import PAPERS
from publisher.catalogue.release.pictures import read_listing
from publisher.errors import Problem, TemplateError
from publisher.layout import lint_templates
from publisher.manuscript.edition import read_edition, read_errata_edition
from publisher.manuscript.word_list import lint_words
from publisher.templates import Templates


def check_templates(templates: Templates) -> tuple[Problem, ...]:
    """Return what is wrong in them, as far as it shows without a pattern."""
    if all(file.as_installed for file in templates.files.values()):
        return ()
    return tuple(dict.fromkeys(_found(templates)))


def _found(templates: Templates) -> Iterator[Problem]:
    for paper in PAPERS:
        yield from _told(partial(read_errata_edition, templates, paper, "pages"))
        for name in templates.names("editions"):
            yield from _told(partial(read_edition, templates, name, paper))
    yield from _told(partial(read_listing, templates))
    yield from lint_words(templates)
    yield from lint_templates(templates)


def _told(read: Callable[[], object]) -> tuple[Problem, ...]:
    """Return what is wrong with what is read."""
    try:
        read()
    except TemplateError as error:
        return error.problems
    return ()
