"""Make the figures of patterns as files of their own: SVG, and PNG where that is asked for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from pathlib import PurePosixPath
from typing import TYPE_CHECKING

from publisher.catalogue.calls import several, wrong_call
from publisher.catalogue.digests import digest_of
from publisher.catalogue.values import FIGURES, FIGURES_FOLDER, FigureOrder, Made
from publisher.errors import OutputError, Place, Problem, PublisherError, UsageError
from publisher.templates import Templates

if TYPE_CHECKING:
    from publisher.catalogue.build import Run
    from publisher.catalogue.values import Errand
    from publisher.catalogue.working import Bench, Planned
    from publisher.catalogue.workshop import Workshop
    from publisher.manuscript.figures import LoneFigure

LEAST_PX, MOST_PX = 16, 10_000
"""How wide a PNG can be."""
_MOST_PIXELS = 120_000_000
"""Four bytes of memory each. A picture is no higher than cairo can draw, either (32,767)."""


def begin_figures(
    workshop: Workshop, names: Sequence[str] = (), png_px: int | None = None
) -> tuple[Run, Problem | None]:
    """A run that makes the figures of these names, or that begin with one of them and a hyphen; of
    none: all. And why it makes no PNG, if it can't. UsageError where no PNG can be so wide; else as
    `begin`.
    """
    from publisher.catalogue.build import begin

    if png_px is not None and not LEAST_PX <= png_px <= MOST_PX:
        hint = f"choose from {LEAST_PX} to {MOST_PX:,}"
        raise wrong_call("--png", f"no picture can be {png_px:,} pixels wide", hint)
    run = begin(workshop)
    lacking = run.bench.stages.lacking_for_pictures() if png_px else None
    order = FigureOrder(several("figures", names), 0 if lacking else png_px or 0)
    return replace(run, targets=(FIGURES,), figures=order), lacking


def draw_files(bench: Bench, errand: Errand, planned: Planned, templates: Templates) -> Made:
    """Draw the figures that are wanted. What can't be drawn is told, and the others are made."""
    stages, pattern = bench.stages, planned.pattern
    drawers = stages.lone_figures(planned.plan, bench.knots_for(pattern), templates)
    files: dict[str, bytes] = {}
    problems: list[Problem] = []
    for name in drawers:
        if not is_wanted(name, errand.figures.names):
            continue
        try:
            for ending, content in _files(bench, drawers[name](), f"{name}-{pattern.slug}", errand):
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
    bench: Bench, lone: LoneFigure, name: str, errand: Errand
) -> Iterator[tuple[str, bytes]]:
    """A figure's files by their endings. OutputError where a picture would be too large."""
    svg = bench.stages.figure_svg(lone, name)
    yield ".svg", svg.encode()
    width = errand.figures.png_px
    if width:
        wide_mm, tall_mm = lone.size_mm
        height = max(1, round(width * tall_mm / wide_mm))
        if height * width > _MOST_PIXELS or height > 32_767:
            most = int(min(32_767 * width / height, (_MOST_PIXELS * width / height) ** 0.5))
            what = f"a PNG of it would have {width:,} × {height:,} pixels, which is too much"
            raise OutputError(Problem(Place("figure"), what, f"choose --png {most:,} or less"))
        yield ".png", bench.stages.svg_picture(svg, width, height)


def _told_of(name: str, path: str, problem: Problem) -> Problem:
    """What is wrong with a figure itself is told of its pattern."""
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


def refuse_unknown(wanted: Sequence[str], known: Iterable[str]) -> None:
    """UsageError for names that no figure has, with the nearest that there are."""
    names = list(dict.fromkeys(known))
    problems = [
        Problem(Place(f"--figure {one}"), "there is no such figure", _hint(one, names))
        for one in unmet(wanted, names)
    ]
    if problems:
        raise UsageError(*problems)


def unmet(wanted: Sequence[str], names: Sequence[str]) -> list[str]:
    """What is wanted and stands for none of these figures."""
    return [one for one in wanted if not any(is_wanted(name, [one]) for name in names)]


def _beginnings(name: str) -> Iterator[str]:
    """`knot`, `knot-berry`, `knot-berry-knot`, …: all that can stand for a name."""
    parts = name.split("-")
    return ("-".join(parts[:count]) for count in range(1, len(parts) + 1))


def _hint(asked: str, names: Iterable[str]) -> str:
    from difflib import get_close_matches

    known = list(dict.fromkeys(start for name in names for start in _beginnings(name)))
    near = get_close_matches(asked.lower(), known, n=3, cutoff=0.6)
    if near:
        return f"did you mean {' or '.join(near)}?"
    return f"choose among {', '.join(name for name in known if '-' not in name)}"
