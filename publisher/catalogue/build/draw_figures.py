"""Draw a pattern's figures as files of their own: SVG, and PNG where that is asked for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import PurePosixPath
from typing import TYPE_CHECKING

from publisher.catalogue.build.digests import digest_of
from publisher.catalogue.build.values import FIGURES, FIGURES_FOLDER, Made
from publisher.errors import OutputError, Place, Problem, PublisherError
from publisher.store import Store
from publisher.templates import Templates

if TYPE_CHECKING:
    from publisher.catalogue.build.job import Planned, Toolkit
    from publisher.catalogue.build.values import BuildJob
    from publisher.manuscript.figures import LoneFigure

_MOST_PIXELS = 120_000_000
"""Four bytes of memory each. A picture is no higher than cairo can draw, either (32,767)."""


def draw_files(
    toolkit: Toolkit, job: BuildJob, planned: Planned, templates: Templates, store: Store
) -> Made:
    """Draw the figures that are wanted. What can't be drawn is told, and the others are made."""
    pipeline, pattern = toolkit.pipeline, planned.pattern
    knots = toolkit.knots_for(pattern, templates)
    drawers = pipeline.lone_figures(planned.plan, knots, templates, store)
    files: dict[str, bytes] = {}
    problems: list[Problem] = []
    for name in drawers:
        if not is_wanted(name, job.figures.names):
            continue
        try:
            for ending, content in _files(toolkit, drawers[name](), f"{name}-{pattern.slug}", job):
                files[f"{FIGURES_FOLDER}/{name}{ending}"] = content
        except PublisherError as error:
            problems += (_told_of(name, pattern.path, problem) for problem in error.problems)
    return Made(
        FIGURES,
        files,
        digest_of(*files.values()),
        tuple(sorted(templates.used)),
        figures=tuple(drawers),
        problems=tuple(problems),
    )


def _files(
    toolkit: Toolkit, lone: LoneFigure, name: str, job: BuildJob
) -> Iterator[tuple[str, bytes]]:
    """A figure's files by their endings. OutputError where a picture would be too large."""
    svg = toolkit.pipeline.figure_svg(lone, name)
    yield ".svg", svg.encode()
    width = job.figures.png_px
    if width:
        wide_mm, tall_mm = lone.size_mm
        height = max(1, round(width * tall_mm / wide_mm))
        if height * width > _MOST_PIXELS or height > 32_767:
            most = int(min(32_767 * width / height, (_MOST_PIXELS * width / height) ** 0.5))
            what = f"a PNG of it would have {width:,} × {height:,} pixels, which is too much"
            raise OutputError(Problem(Place("figure"), what, f"choose --png {most:,} or less"))
        yield ".png", toolkit.pipeline.svg_picture(svg, width, height, lone.ground)


def _told_of(name: str, path: str, problem: Problem) -> Problem:
    """Tell a mistake in a figure itself as one of its pattern."""
    if problem.place != Place("figure"):
        return problem
    return replace(problem, place=Place(path), message=f"{name}: {problem.message}")


def is_wanted(name: str, wanted: Sequence[str]) -> bool:
    """Is a figure among those named, by its name or the beginning of it? All are, of none."""
    return not wanted or any(name == one or name.startswith(f"{one}-") for one in wanted)


def still_shown(
    names: Iterable[str], before: Mapping[str, str], now: Mapping[str, str]
) -> dict[str, str]:
    """The files of an earlier run that this one has neither made nor overtaken, with their
    digests: of figures that the pattern still has, and whose SVG has not become another."""
    known, kept = set(names), {}
    for file, digest in before.items():
        path = PurePosixPath(file)
        svg = str(path.with_suffix(".svg"))
        if path.stem in known and now.get(svg, before.get(svg)) == before.get(svg):
            kept[file] = digest
    return kept
