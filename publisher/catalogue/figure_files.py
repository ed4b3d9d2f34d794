"""Choose which figures of which patterns are made as files of their own."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

from publisher.catalogue.build.build import begin
from publisher.catalogue.build.draw_figures import is_wanted
from publisher.catalogue.build.values import FIGURES, FigureOrder
from publisher.catalogue.calls import several, wrong_call
from publisher.errors import Place, Problem, UsageError
from publisher.tables.words import near_ones

if TYPE_CHECKING:
    from publisher.catalogue.build.run import BuildRun
    from publisher.catalogue.workshop import Workshop

LEAST_PX, MOST_PX = 16, 10_000
"""How wide a PNG can be."""


def begin_figures(
    workshop: Workshop, names: Sequence[str] = (), png_px: int | None = None
) -> tuple[BuildRun, Problem | None]:
    """A run that makes the figures of these names, or that begin with one of them and a hyphen; of
    none: all. And why it makes no PNG, if it can't. UsageError where no PNG can be so wide; else as
    `begin`.
    """

    if png_px is not None and not LEAST_PX <= png_px <= MOST_PX:
        hint = f"choose from {LEAST_PX} to {MOST_PX:,}"
        raise wrong_call("--png", f"no picture can be {png_px:,} pixels wide", hint)
    run = begin(workshop)
    lacking = run.toolkit.pipeline.lacking_for_pictures() if png_px else None
    order = FigureOrder(several("figures", names), 0 if lacking else png_px or 0)
    return replace(run, targets=(FIGURES,), figures=order), lacking


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
    """Return what is wanted and stands for none of these figures."""
    return [one for one in wanted if not any(is_wanted(name, [one]) for name in names)]


def _beginnings(name: str) -> Iterator[str]:
    """`knot`, `knot-berry`, `knot-berry-knot`, …: all that can stand for a name."""
    parts = name.split("-")
    return ("-".join(parts[:count]) for count in range(1, len(parts) + 1))


def _hint(asked: str, names: Iterable[str]) -> str:
    known = list(dict.fromkeys(start for name in names for start in _beginnings(name)))
    near = near_ones(asked, known)
    if near:
        return f"did you mean {' or '.join(near)}?"
    return f"choose among {', '.join(name for name in known if '-' not in name)}"
