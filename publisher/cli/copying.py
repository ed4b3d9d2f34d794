"""Tell of buyers' copies as they are made, a bar on a terminal if there are many, and of sheets."""

from __future__ import annotations

import sys
import time
from typing import TYPE_CHECKING

import click

from publisher.cli.reporter import say_problems

if TYPE_CHECKING:
    from publisher.catalogue.buyers import Copies
    from publisher.catalogue.sheets import Sheets

_MANY = 100


def tell_copies(copies: Copies) -> None:
    """Make the copies, and say what came of it."""
    say_problems(copies.notes)
    started = time.perf_counter()
    total = len(copies.paths)
    if total == 1:
        for path in copies.make():
            click.echo(f"made {path}")
        return
    with click.progressbar(
        length=total,
        label="stamping",
        file=sys.stderr,
        show_pos=True,
        hidden=total < _MANY or not sys.stderr.isatty(),
    ) as bar:
        for _ in copies.make():
            bar.update(1)
    seconds = time.perf_counter() - started
    click.echo(f"{total} copies made in {copies.paths[0].parent}, in {seconds:.1f} s")


def tell_sheets(sheets: Sheets) -> None:
    """Say how large the pages are on their sheets, and what that does to them."""
    from publisher.catalogue.sheets import LEAST_TYPE_PT

    if sheets.full_size:
        click.echo(f"made {sheets.path}, its pages at full size")
        return
    percent = f"{sheets.scale * 100:.0f} %"
    smallest = f", the smallest type {sheets.smallest_pt:.1f} pt" if sheets.smallest_pt else ""
    click.echo(f"made {sheets.path}, its pages at {percent}{smallest}")
    click.echo(
        f"at {percent} nothing can be measured on these sheets, nor a template copied from them: "
        "take the pages themselves for that"
    )
    if sheets.hard_to_read:
        least = f"type under {LEAST_TYPE_PT:g} pt"
        click.echo(f"{least} is hard to read: choose larger sheets, --paper a3 or tabloid")
