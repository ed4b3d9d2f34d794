"""What passes between the catalogue and its workers, and what it tells in the end."""

from __future__ import annotations

import datetime
from collections.abc import Mapping
from dataclasses import field
from pathlib import Path
from typing import TYPE_CHECKING

from publisher.errors import Problem
from publisher.frozen import frozen

if TYPE_CHECKING:
    from publisher.model.pattern import Pattern
    from publisher.model.plan import Advice


@frozen(order=True)
class Target:
    """A thing that is made from a pattern at one go: an edition on a paper, the companion files, or
    the figures."""

    edition: str
    paper: str

    @property
    def name(self) -> str:
        return f"{self.edition}-{self.paper}" if self.edition else self.paper or "companions"


COMPANIONS = Target("", "")
"""The plan, the cutting list and the picture: one set a pattern, whatever the edition."""
FIGURES = Target("", "figures")
"""The figures of a pattern, each in a file of its own."""
FIGURES_FOLDER = "figures"
"""Where they are put, below the pattern's folder."""


@frozen
class FigureOrder:
    """An order for figures: their names or the beginnings of names (none: all), and their width as
    PNG (0: no PNG)."""

    names: tuple[str, ...] = ()
    png_px: int = 0


CUTTING_LISTS = {"right": "cutting-list.csv", "left": "cutting-list-left.csv"}
"""File names of the cutting list by hand. That of the right hand is a companion file; that of the
left hand is made with each edition for it, as a plan of its own cuts other lengths."""


@frozen
class BuildJob:
    """One pattern's work, with all that a worker needs to know of it.

    `packs`: what was kept of each target, and of its plans, in an earlier run. `before` has a
    digest of what was laid out the last time: what comes out the same is not printed again.
    `students`: how many a class has, if it is not what the edition says. `unprintable`: what of the
    pattern's words no page can show. `dry`: print nothing. `figures`: which, if they are made.
    """

    pattern: Pattern
    targets: tuple[Target, ...]
    date: datetime.datetime
    packs: Mapping[str, bytes]
    before: Mapping[Target, str]
    students: int | None = None
    unprintable: tuple[Problem, ...] = ()
    dry: bool = False
    figures: FigureOrder = FigureOrder()


@frozen
class Made:
    """One target's files by name; None where they came out as before. `digest`: of the layout.

    `entry`: what the index says of the pattern, with the companions. `pack`: what was drawn, to
    keep, where some of it was drawn anew.
    `figures`: the names of all that the pattern has. `problems`: what more could not be made.
    """

    target: Target
    files: Mapping[str, bytes] | None
    digest: str
    templates: tuple[str, ...]
    entry: bytes = b""
    pack: bytes = b""
    figures: tuple[str, ...] = ()
    problems: tuple[Problem, ...] = ()


@frozen
class Result:
    """The result that a worker brings back.

    `packs`: the plans to keep, where they were made anew; `shared`: what was drawn for all targets.
    `large`: a chart is so large that other libraries may have planned it.
    """

    slug: str
    made: tuple[Made, ...] = ()
    problems: tuple[Problem, ...] = ()
    advice: tuple[Advice, ...] = ()
    knots: tuple[str, ...] = ()
    large: bool = False
    packs: Mapping[str, bytes] = field(default_factory=dict)
    shared: Mapping[str, bytes] = field(default_factory=dict)
    seconds: float = 0.0
    trace: str = ""
    """Where an unexpected error came from, for those who mend the program."""


@frozen
class Leftover:
    """A file that nothing makes any more, and why."""

    path: Path
    why: str


@frozen
class PatternTask:
    """A pattern file, and why each target has to be made again (no reason: it need not)."""

    path: Path
    reasons: Mapping[Target, tuple[str, ...]]

    @property
    def slug(self) -> str:
        return self.path.stem

    @property
    def stale(self) -> tuple[Target, ...]:
        return tuple(target for target, reasons in self.reasons.items() if reasons)


@frozen
class Outcome:
    """The outcome for one pattern, or for the index. `made`: the files that are new or changed;
    `left_out`: the patterns that pages of the index can't show; `figures`: the names of all figures
    that the pattern has, where figures were made."""

    slug: str
    path: Path
    reasons: Mapping[Target, tuple[str, ...]]
    made: tuple[Path, ...] = ()
    problems: tuple[Problem, ...] = ()
    advice: tuple[Advice, ...] = ()
    seconds: float = 0.0
    trace: str = ""
    left_out: tuple[str, ...] = ()
    figures: tuple[str, ...] = ()

    @property
    def up_to_date(self) -> bool:
        """Nothing had to be done."""
        return not self.problems and not any(self.reasons.values())


@frozen
class Aftermath:
    """The work that is left when all patterns are done.

    `index`: what became of the index, where it was looked at. `leftovers` are files that nothing
    makes any more; `pruned`: they were taken away. `damaged`: records that can't be read.
    """

    index: Outcome | None = None
    leftovers: tuple[Leftover, ...] = ()
    pruned: bool = False
    damaged: tuple[Problem, ...] = ()


@frozen
class Summary:
    """A summary of a whole run. `left`: patterns not tried, as the run was to stop at a failure."""

    outcomes: tuple[Outcome, ...]
    left: int
    seconds: float
    after: Aftermath = Aftermath()

    @property
    def made(self) -> tuple[Path, ...]:
        return tuple(path for outcome in self.outcomes for path in outcome.made)

    @property
    def all_well(self) -> bool:
        return not self.failed and not (self.after.index and self.after.index.problems)

    @property
    def failed(self) -> tuple[Outcome, ...]:
        return tuple(outcome for outcome in self.outcomes if outcome.problems)

    @property
    def up_to_date(self) -> int:
        return sum(outcome.up_to_date for outcome in self.outcomes)

    @property
    def slowest(self) -> Outcome | None:
        worked = [outcome for outcome in self.outcomes if outcome.seconds]
        return max(worked, key=lambda outcome: outcome.seconds, default=None)
