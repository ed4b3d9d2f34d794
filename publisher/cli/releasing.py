"""Tell what became of a release: where it is, what is in it, what earlier buyers are told."""

from __future__ import annotations

import sys

import click

from publisher.catalogue.release.outcome import Released, ReleaseError
from publisher.catalogue.release.release import order_of, release
from publisher.catalogue.workshop import Workshop
from publisher.cli.reporter import say_trace


def tell_release(
    workshop: Workshop, name: str, editions: tuple[str, ...], papers: tuple[str, ...], *, dry: bool
) -> None:
    """Release it, or say what would be released."""
    order = order_of(workshop, name, editions, papers, dry)
    if sys.stderr.isatty():
        click.echo(f"{order.path.stem}: building what is out of date…", err=True)
    try:
        done = release(order)
    except ReleaseError as error:
        say_trace(error.trace)
        raise
    for note in done.notes:
        click.echo(note, err=True)
    for line in _lines(done):
        click.echo(line)


def _lines(done: Released) -> list[str]:
    named = f"{done.slug} {done.version}"
    if done.state == "there":
        return [f"{named}: released already, in {done.folder}; nothing has changed since"]
    verb = "released in" if done.state == "made" else "would be released in"
    lines = [f"{named}: {verb} {done.folder}", *(f"  {name}" for name in done.files)]
    if done.since and not done.changes:
        lines.append(f"nothing has changed since {done.since} but how it looks: no errata")
    elif done.since:
        lines.append(f"errata to {done.since}: {done.changes}")
    if done.state == "dry" and done.errata:
        lines += ["", done.errata.rstrip()]
    return lines
