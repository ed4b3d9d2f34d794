"""Look a catalogue and its templates over: every problem and every piece of advice, and nothing
written."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import closing
from dataclasses import replace
from functools import cache, partial
from pathlib import Path

from publisher.catalogue.advice import say_advice
from publisher.catalogue.build.dispatch import carry_out, choose_executor
from publisher.catalogue.build.run import BuildRun
from publisher.catalogue.build.values import BuildJob, PatternTask, Result, Target
from publisher.catalogue.calls import PAPERS
from publisher.catalogue.release.pictures import read_listing
from publisher.errors import Problem, TemplateError
from publisher.frozen import frozen
from publisher.knots.load import load_knots, package_knot
from publisher.layout import lint_templates
from publisher.manuscript.edition import read_edition, read_errata_edition
from publisher.manuscript.word_list import lint_words
from publisher.manuscript.words import read_words
from publisher.model.pattern import Pattern
from publisher.templates import KNOT_WORDS, Templates


@frozen
class Checked:
    """The problems and advice found in one pattern."""

    slug: str
    problems: tuple[Problem, ...]
    advice: tuple[str, ...]
    trace: str


def check_catalogue(run: BuildRun, paths: Sequence[Path], jobs: int) -> Iterator[Checked]:
    """Read, plan and lay out every pattern, in the writer's own editions too, and print none. They
    are told in the order given."""
    run = _with_own_editions(run)
    patterns: dict[str, Pattern] = {}
    words = cache(lambda: read_words(run.toolkit.templates()))

    def prepare(task: PatternTask) -> BuildJob:
        pattern = run.toolkit.pipeline.read_pattern(task.path)
        run.toolkit.pipeline.refuse_unknown_terms(pattern, run.toolkit.templates())
        patterns[task.slug] = pattern
        return run.dry_job(pattern)

    def finish(task: PatternTask, result: Result) -> Checked:
        told = [say_advice(advice, patterns[task.slug], words()) for advice in result.advice]
        if not result.problems and (run.workshop.out / task.slug / "releases").is_dir():
            from publisher.catalogue.release.advice import release_advice

            told += release_advice(run, task.path, patterns[task.slug].version, words())
        return Checked(task.slug, result.problems, tuple(dict.fromkeys(told)), result.trace)

    tasks = [PatternTask(path, {}) for path in paths]
    with closing(choose_executor(run.toolkit, len(tasks), jobs, None)) as executor:
        yield from _in_order(carry_out(executor, tasks, prepare, finish), tasks)


def _with_own_editions(run: BuildRun) -> BuildRun:
    """The run, with each edition that the writer has made or changed."""
    templates = run.toolkit.templates()
    own = [
        Target(name, "a4")
        for name in templates.names("editions")
        if not templates.files[f"editions/{name}.toml"].as_installed
    ]
    return replace(run, targets=tuple(dict.fromkeys((*run.targets, *own))))


def _in_order(found: Iterable[Checked], tasks: Sequence[PatternTask]) -> Iterator[Checked]:
    """Yield what was found, each when all before it are done."""
    done: dict[str, Checked] = {}
    waiting = deque(task.slug for task in tasks)
    for checked in found:
        done[checked.slug] = checked
        while waiting and waiting[0] in done:
            yield done.pop(waiting.popleft())
    yield from done.values()


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
    for name in load_knots():
        yield from _told(partial(package_knot, name, templates.file(KNOT_WORDS)))
    yield from lint_templates(templates)


def _told(read: Callable[[], object]) -> tuple[Problem, ...]:
    """Return what is wrong with what is read."""
    try:
        read()
    except TemplateError as error:
        return error.problems
    return ()
