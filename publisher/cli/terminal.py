"""Show a run on a terminal: a bar while it goes, a table when it is done."""

from __future__ import annotations

from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn
from rich.table import Table
from rich.text import Text

from publisher.catalogue.build.values import Outcome, Summary
from publisher.cli.summary import aftermath_in_words, in_words, reasons_in_words, what_became
from publisher.errors import Problem


class OnTerminal:
    """The bar is drawn anew at each outcome only, so that no thread runs beside the workers."""

    def __init__(self, total: int, why: bool) -> None:
        self._why = why
        self._failed = 0
        self._bar = Progress(
            TextColumn("{task.description}", markup=False),
            BarColumn(),
            MofNCompleteColumn(),
            TextColumn("{task.fields[failed]}", style="red"),
            TimeElapsedColumn(),
            console=Console(stderr=True),
            auto_refresh=False,
            transient=True,
        )
        self._task = self._bar.add_task("publishing", total=total, failed="")
        self._bar.start()
        self._bar.refresh()

    def tell(self, outcome: Outcome) -> None:
        for line in reasons_in_words(outcome) if self._why else ():
            self._say(line)
        self._failed += bool(outcome.problems)
        failed = f"{self._failed} failed" if self._failed else ""
        self._bar.update(self._task, advance=1, failed=failed, description=outcome.slug)
        self._bar.refresh()

    def problem(self, problem: Problem) -> None:
        self._say(str(problem))

    def _say(self, line: str) -> None:
        self._bar.console.print(line, markup=False, highlight=False, soft_wrap=True)

    def close(self) -> None:
        self._bar.stop()

    def sum_up(self, summary: Summary) -> None:
        worked = [outcome for outcome in summary.outcomes if not outcome.up_to_date]
        console = Console()
        if worked:
            console.print(_table(worked))
        for line in (in_words(summary), *aftermath_in_words(summary.after, self._why)):
            console.print(line, markup=False, highlight=False, soft_wrap=True)


def _table(outcomes: list[Outcome]) -> Table:
    table = Table(box=None, pad_edge=False)
    table.add_column("pattern")
    table.add_column("what became of it", overflow="fold")
    table.add_column("seconds", justify="right")
    for outcome in sorted(outcomes, key=lambda outcome: outcome.slug):
        style = "red" if outcome.problems else None
        # as texts: a path may hold what would be read as markup
        told = (outcome.slug, what_became(outcome), f"{outcome.seconds:.2f}")
        table.add_row(*map(Text, told), style=style)
    return table
