"""The commands. Each reads its words, calls the catalogue, and says what came of it."""

from __future__ import annotations

from functools import partial
from pathlib import Path

import click

from publisher.cli.options import (
    SHEETS,
    both_papers_option,
    column_range,
    editions_option,
    jobs_option,
    papers_option,
    patterns_option,
    released_editions_option,
    templates_option,
    workshop_of,
    workshop_options,
)
from publisher.cli.reporter import SpeakingGroup


@click.group(cls=SpeakingGroup)
@click.version_option(package_name="publisher", message="%(version)s")
def commands() -> None:
    """Plan, draw and publish knotting patterns: one source file a pattern, booklets for a whole
    catalogue.

    PATTERN is a pattern's name or the path of its file; none means all in the patterns folder.
    """


@commands.command()
@click.argument("names", nargs=-1, metavar="[PATTERN]...")
@editions_option
@papers_option
@click.option(
    "--keep-going/--stop",
    default=True,
    help="What to do after a pattern has failed.  [default: keep going]",
)
@click.option(
    "--students",
    type=click.IntRange(min=1),
    metavar="N",
    help="How many a class has, for a handout.  [default: as its edition says]",
)
@click.option("--why", is_flag=True, help="Say of each edition what has changed.")
@click.option("--prune", is_flag=True, help="Remove what no pattern makes any more.")
@click.option("--json", "as_json", is_flag=True, help="Give the summary as JSON.")
@click.option("--cluster", metavar="ADDRESS", help="Do the work on a dask cluster.")
@jobs_option
@workshop_options
def build(
    names: tuple[str, ...],
    editions: tuple[str, ...],
    papers: tuple[str, ...],
    keep_going: bool,
    students: int | None,
    why: bool,
    prune: bool,
    as_json: bool,
    cluster: str | None,
    jobs: int | None,
    **folders: Path,
) -> None:
    """Make the editions that are out of date."""
    from publisher.catalogue.build.build import begin, conclude, cores
    from publisher.cli.following import choose_reporter, follow

    run = begin(workshop_of(folders), editions, papers, students=students)
    tasks = run.tasks(run.workshop.find(names))
    outcomes = run.outcomes(tasks, jobs or cores(), cluster)
    aftermath = partial(conclude, run, tasks, whole=not names, prune=prune)
    tell = choose_reporter(len(tasks), why, as_json)
    summary = follow(outcomes, len(tasks), tell, keep_going, aftermath)
    click.get_current_context().exit(0 if summary.all_well else 1)


@commands.command()
@click.argument("names", nargs=-1, metavar="[PATTERN]...")
@editions_option
@papers_option
@click.option(
    "--port",
    type=click.IntRange(1, 65535),
    help="The port of the page.  [default: 8040, or another where that is taken]",
)
@click.option("--browser/--no-browser", default=True, help="Open the page.  [default: open it]")
@workshop_options
def watch(
    names: tuple[str, ...],
    editions: tuple[str, ...],
    papers: tuple[str, ...],
    port: int | None,
    browser: bool,
    **folders: Path,
) -> None:
    """Rebuild what changes, as it changes, and show it in a page of this machine alone."""
    from publisher.cli.watching import watch_until_stopped

    watch_until_stopped(workshop_of(folders), names, editions, papers, port, browser)


@commands.command()
@click.argument("names", nargs=-1, metavar="[PATTERN]...")
@jobs_option
@workshop_options
def check(names: tuple[str, ...], jobs: int | None, **folders: Path) -> None:
    """Read everything, say every problem and every piece of advice, and write nothing."""
    from publisher.catalogue.build.build import begin, cores
    from publisher.catalogue.check_catalogue import check_catalogue, check_templates
    from publisher.cli.following import tell_checked

    run = begin(workshop_of(folders))
    paths = run.workshop.find(names)
    shared = check_templates(run.toolkit.templates())
    found = check_catalogue(run, paths, jobs or cores())
    click.get_current_context().exit(tell_checked(shared, found))


@commands.command()
@click.argument("pattern")
@click.option("--json", "as_json", is_flag=True, help="Give the plan as JSON.")
@click.option(
    "--carry-columns",
    type=column_range,
    metavar="N..M",
    help="What other carry limits would come to, such as 4..10.",
)
@templates_option
@patterns_option
def plan(pattern: str, as_json: bool, carry_columns: range | None, **folders: Path) -> None:
    """Print a pattern's working plan."""
    from publisher.catalogue.planning import tell_limits, tell_plan

    workshop = workshop_of(folders)
    if carry_columns is None:
        click.echo(tell_plan(workshop, pattern, as_json), nl=False)
    else:
        click.echo(tell_limits(workshop, pattern, carry_columns, as_json), nl=False)


@commands.command()
@click.argument("pattern")
@released_editions_option
@both_papers_option
@click.option("--dry-run", is_flag=True, help="Say what would be released, and write nothing.")
@workshop_options
def release(
    pattern: str, editions: tuple[str, ...], papers: tuple[str, ...], dry_run: bool, **folders: Path
) -> None:
    """Bundle a version that never changes again, with errata against the last one."""
    from publisher.cli.releasing import tell_release

    tell_release(workshop_of(folders), pattern, editions, papers, dry=dry_run)


@commands.command()
@click.argument("names", nargs=-1, metavar="[PATTERN]...")
@click.option(
    "--figure",
    "figures",
    multiple=True,
    metavar="NAME",
    help="A figure, or several by the beginning of their names, such as chart or knot; "
    "may be given again.  [default: all]",
)
@click.option(
    "--png",
    "png_px",
    type=int,
    metavar="PIXELS",
    help="Make PNG pictures too, so wide.  [default: SVG alone]",
)
@jobs_option
@workshop_options
def figures(
    names: tuple[str, ...],
    figures: tuple[str, ...],
    png_px: int | None,
    jobs: int | None,
    **folders: Path,
) -> None:
    """Make a pattern's figures as files of their own, for a shop, slides, other programs."""
    from publisher.cli.figuring import tell_figures

    status = tell_figures(workshop_of(folders), names, figures, png_px, jobs)
    click.get_current_context().exit(status)


@commands.command()
@click.argument("slug")
@patterns_option
def new(slug: str, **folders: Path) -> None:
    """Start a pattern: a file with notes that builds as it is."""
    from publisher.catalogue.starting import start_pattern

    click.echo(f"made {start_pattern(workshop_of(folders), slug)}")


@commands.command()
@click.argument("picture", metavar="PICTURE", type=click.Path(path_type=Path))
@click.option(
    "--columns",
    type=click.IntRange(1, 2_000),
    required=True,
    metavar="N",
    help="How many columns, which is how many cords, the chart has.",
)
@click.option(
    "--colours",
    type=click.IntRange(1, 40),
    default=8,
    show_default=True,
    metavar="N",
    help="The most colours that it may have.",
)
@click.option(
    "--yarns",
    type=click.Choice(["house"]),
    help="Only colours that the house has.  [default: those of the picture]",
)
@click.option(
    "--into",
    required=True,
    metavar="FILE.toml",
    type=click.Path(path_type=Path),
    help="The pattern: a new one, or one whose first chart is replaced.",
)
def chart(picture: Path, columns: int, colours: int, yarns: str | None, into: Path) -> None:
    """Make a chart of a photo or drawing.

    The rows follow from the picture's proportion and that of the knots. In a pattern that is
    there, the first chart is replaced and, without --yarns, the colours; all else stays.
    """
    from publisher.catalogue.charting.chart import chart_picture
    from publisher.cli.charting import tell_chart

    tell_chart(chart_picture(picture, into, columns=columns, colours=colours, yarns=yarns))


@commands.command()
@click.option("--json", "as_json", is_flag=True, help="Give the knots' geometry as JSON.")
@patterns_option
def knots(as_json: bool, **folders: Path) -> None:
    """List the knots that a pattern can name."""
    from publisher.catalogue.planning import list_knots

    click.echo(list_knots(workshop_of(folders), as_json), nl=False)


@commands.command()
@click.argument("file", metavar="FILE.pdf", type=click.Path(path_type=Path))
@click.option("--buyer", metavar="TEXT", help="Whose copy it is.")
@click.option("--order", metavar="TEXT", help="The buyer's order, if it is to be said too.")
@click.option(
    "--buyers",
    metavar="FILE.csv",
    type=click.Path(path_type=Path),
    help="A list of buyers, with columns buyer and order.",
)
@click.option(
    "--into",
    metavar="DIR",
    type=click.Path(path_type=Path),
    help="The folder for the copies.  [default: beside the file]",
)
@templates_option
def stamp(
    file: Path,
    buyer: str | None,
    order: str | None,
    buyers: Path | None,
    into: Path | None,
    templates: Path,
) -> None:
    """Make each buyer's copy of a finished PDF, with a line in the foot of every page."""
    from publisher.catalogue.buyers import copies_for
    from publisher.cli.copying import tell_copies

    tell_copies(copies_for(file, buyer, order, buyers, into, templates))


@commands.command()
@click.argument("file", metavar="FILE.pdf", type=click.Path(path_type=Path))
@click.option(
    "--scheme",
    required=True,
    type=click.Choice(["booklet", "two-up", "crop-marks"]),
    help="A booklet to fold and staple, two pages beside each other, or each page with crop marks.",
)
@click.option(
    "--paper",
    type=SHEETS,
    help="The sheets; pages too large for half of one are made smaller.  [default: as the pages]",
)
@click.option(
    "--into",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="The file to make.  [default: FILE-SCHEME.pdf, beside the file]",
)
def impose(file: Path, scheme: str, paper: str | None, into: Path | None) -> None:
    """Lay a finished PDF's pages out on sheets for a printer."""
    from publisher.catalogue.sheets import impose_file
    from publisher.cli.copying import tell_sheets

    tell_sheets(impose_file(file, scheme, paper, into))
