"""Tell of figures as they are made, pattern by pattern."""

from __future__ import annotations

import time
from collections.abc import Iterable, Sequence
from contextlib import closing

import click

from publisher.catalogue.build.build import conclude, cores
from publisher.catalogue.build.draw_figures import is_wanted
from publisher.catalogue.build.values import FIGURES_FOLDER, FigureOrder, Outcome
from publisher.catalogue.figure_files import begin_figures, refuse_unknown, unmet
from publisher.catalogue.workshop import Workshop
from publisher.cli.reporter import say_problems, say_trace
from publisher.cli.summary import aftermath_in_words
from publisher.errors import Problem


def tell_figures(
    workshop: Workshop,
    names: Sequence[str],
    wanted: Sequence[str],
    png_px: int | None,
    jobs: int | None,
) -> int:
    """Make them, and say what came of it; the exit status. UsageError for a name that no figure
    of any pattern has, when the others are made."""
    started = time.perf_counter()
    run, lacking = begin_figures(workshop, wanted, png_px)
    tasks = run.tasks(run.workshop.find(names))
    seen: list[Outcome] = []
    said: set[Problem] = set()
    with closing(run.outcomes(tasks, jobs or cores())) as outcomes:
        for outcome in outcomes:
            seen.append(outcome)
            _say(said, outcome.problems)
            say_trace(outcome.trace)
            click.echo(f"{outcome.slug}: {_what_became(outcome, run.figures, workshop)}")
    _say(said, [lacking] if lacking else [])
    for line in aftermath_in_words(conclude(run, tasks, whole=False), why=False):
        click.echo(line)
    known = [name for outcome in seen for name in outcome.figures]
    count = sum(is_wanted(name, wanted) for name in known)
    seconds = time.perf_counter() - started
    plural = "s" * (len(tasks) != 1)
    click.echo(f"{len(tasks)} pattern{plural}: {_figures(count)}, in {seconds:.1f} s")
    if all(outcome.figures for outcome in seen):
        refuse_unknown(wanted, known)
    return 1 if said else 0


def _say(said: set[Problem], problems: Iterable[Problem]) -> None:
    """Each problem once."""
    say_problems(problem for problem in dict.fromkeys(problems) if problem not in said)
    said.update(problems)


def _what_became(outcome: Outcome, order: FigureOrder, workshop: Workshop) -> str:
    """One pattern's figures in a few words."""
    lacking = unmet(order.names, outcome.figures)
    count = sum(is_wanted(name, order.names) for name in outcome.figures)
    folder = workshop.out / outcome.slug / FIGURES_FOLDER
    kinds = "SVG and PNG" if order.png_px else "SVG"
    if outcome.problems:
        made = f", but {len(outcome.made)} files made in {folder}" if outcome.made else ""
        return f"failed{made}"
    parts = []
    if count:
        same = "" if outcome.made else ", as they were"
        parts.append(f"{_figures(count)} as {kinds} in {folder}{same}")
    if lacking:
        parts.append(f"no figure {' nor '.join(lacking)}")
    return "; ".join(parts)


def _figures(count: int) -> str:
    return f"{count} figure{'s' * (count != 1)}"
