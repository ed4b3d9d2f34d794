"""The options that commands share, and the words of a call as values."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click
from click.core import ParameterSource

from publisher.catalogue.calls import PAPERS, TEMPLATES, check_templates
from publisher.catalogue.workshop import Workshop

_Command = TypeVar("_Command", bound=Callable[..., Any])

_MOST_COLUMNS = 100
PAPER = click.Choice(PAPERS)
SHEETS = click.Choice(["a4", "letter", "a3", "tabloid"])
_FOLDER = click.Path(file_okay=False, path_type=Path)


def _there_if_named(context: click.Context, option: click.Parameter, folder: Path) -> Path:
    """A folder need not be there, unless the call names it."""
    named = context.get_parameter_source(option.name or "") is ParameterSource.COMMANDLINE
    if named:
        check_templates(folder)
    return folder


patterns_option = click.option(
    "--patterns",
    type=_FOLDER,
    default=Path("patterns"),
    show_default=True,
    help="The folder of pattern files.",
)
templates_option = click.option(
    "--templates",
    type=_FOLDER,
    default=TEMPLATES,
    show_default=True,
    callback=_there_if_named,
    help="Your own templates; the installed ones stand in for those that are not there.",
)
out_option = click.option(
    "--out",
    type=click.Path(path_type=Path),
    default=Path("build"),
    show_default=True,
    help="The folder that books are put in.",
)
editions_option = click.option(
    "--edition",
    "editions",
    multiple=True,
    default=("booklet",),
    metavar="NAME",
    help="An edition to make; may be given again.  [default: booklet]",
)
papers_option = click.option(
    "--paper",
    "papers",
    multiple=True,
    default=("a4",),
    type=PAPER,
    help="The paper; may be given again.  [default: a4]",
)
released_editions_option = click.option(
    "--edition",
    "editions",
    multiple=True,
    metavar="NAME",
    help="An edition to release; may be given again.  [default: all that are for buyers]",
)
both_papers_option = click.option(
    "--paper",
    "papers",
    multiple=True,
    default=PAPERS,
    type=PAPER,
    help="The paper; may be given again.  [default: both]",
)
jobs_option = click.option(
    "--jobs", type=click.IntRange(min=1), help="Workers at a time.  [default: one a core]"
)


def workshop_options(command: _Command) -> _Command:
    """--patterns, --templates and --out, given to the command as one workshop."""
    for option in (out_option, templates_option, patterns_option):
        command = option(command)
    return command


def workshop_of(folders: dict[str, Path]) -> Workshop:
    return Workshop(**folders)


def column_range(text: str) -> range:
    """`6` or `4..10` as numbers of columns."""
    first, dots, last = text.partition("..")
    try:
        columns = range(int(first), int(last if dots else first) + 1)
    except ValueError:
        columns = range(0)
    if not columns or columns[0] < 0 or columns[-1] - columns[0] >= _MOST_COLUMNS:
        raise click.BadParameter(f"{text!r} is no range of columns like 4..10")
    return columns
