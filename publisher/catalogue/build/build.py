"""Bring a catalogue up to date: find what is out of date, have it made, put it where it belongs."""

from __future__ import annotations

import os
import time
from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from publisher.catalogue.build.digests import Present
from publisher.catalogue.build.index import build_index
from publisher.catalogue.build.job import Toolkit
from publisher.catalogue.build.pipeline import Pipeline
from publisher.catalogue.build.reading import fixed_epoch
from publisher.catalogue.build.run import BuildRun
from publisher.catalogue.build.values import (
    COMPANIONS,
    Aftermath,
    PatternTask,
    Summary,
    Target,
)
from publisher.catalogue.calls import (
    check_number,
    check_students,
    known_editions,
    known_papers,
    several,
)
from publisher.catalogue.workshop import Workshop, read_own_knots, read_templates, workshop_in


def build_catalogue(
    patterns: str | Path = "patterns",
    *,
    out: str | Path = "build",
    templates: str | Path | None = "templates",
    only: Sequence[str] = (),
    editions: Sequence[str] = ("booklet",),
    papers: Sequence[str] = ("a4",),
    jobs: int | None = None,
    students: int | None = None,
) -> Summary:
    """Make what is out of date in a folder of patterns, and tell what became of each.

    `only`: slugs or paths of the patterns meant. `students`: how many a class has, for editions
    with a kit, if it is not what they say. UsageError, TemplateError or OutputError where
    nothing could be begun; what fails in one pattern is in its outcome.
    """
    workshop = workshop_in(patterns, templates, out)
    if jobs is not None:
        check_number("jobs", jobs)
    run = begin(workshop, editions, papers, students=students)
    started = time.perf_counter()
    tasks = run.tasks(workshop.find(several("only", only)))
    outcomes = tuple(run.outcomes(tasks, jobs or cores()))
    after = conclude(run, tasks, whole=not only)
    return Summary(outcomes, 0, time.perf_counter() - started, after)


def cores() -> int:
    """The processor cores that this process may use."""
    with suppress(AttributeError):
        return len(os.sched_getaffinity(0))
    return os.cpu_count() or 1


def begin(
    workshop: Workshop,
    editions: Sequence[str] = ("booklet",),
    papers: Sequence[str] = ("a4",),
    pipeline: Pipeline | None = None,
    students: int | None = None,
) -> BuildRun:
    """Read what all patterns share. TemplateError, SourceError or UsageError where it is wrong."""
    pipeline = pipeline or Pipeline()
    templates = read_templates(workshop.templates)
    editions, papers = known_editions(editions, templates), known_papers(papers)
    counted = any(pipeline.counts_students(templates, name) for name in editions)
    check_students(students, counted)
    toolkit = Toolkit(templates.files, read_own_knots(workshop.patterns), pipeline)
    targets = [Target(edition, paper) for edition in editions for paper in papers]
    present = Present(toolkit.files, toolkit.own_knots, fixed_epoch(), students)
    return BuildRun(workshop, (COMPANIONS, *targets), toolkit, present)


def conclude(
    run: BuildRun, tasks: Sequence[PatternTask], *, whole: bool, prune: bool = False
) -> Aftermath:
    """Do what depends on all patterns: the index, and the files left over.

    `whole`: the tasks are for all patterns that there are.
    """
    slugs = [task.slug for task in tasks]
    index = build_index(run, slugs) if whole else None
    left = run.leftovers(() if whole else slugs, prune=prune)
    return Aftermath(index, left.files, prune, left.damaged)
