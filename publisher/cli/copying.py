"""Tell of buyers' copies as they are made: a bar on a terminal if there are many, then a line."""

from __future__ import annotations

import sys
import time
from typing import TYPE_CHECKING

import click

if TYPE_CHECKING:
    from publisher.catalogue.buyers import Copies

_MANY = 100


def tell_copies(copies: Copies) -> None:
    """Make the copies, and say what came of it."""
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
