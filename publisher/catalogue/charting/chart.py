"""Make a chart of a picture, in a new pattern file or in the place of a chart that is there."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from publisher.catalogue.calls import wrong_call
from publisher.catalogue.charting.colours import find_shelf
from publisher.catalogue.charting.job import Job, check_call, read_old
from publisher.catalogue.charting.outcome import Charted, Replaced, Tidied
from publisher.catalogue.finished import put_finished
from publisher.errors import Place, Problem, SourceError
from publisher.model.pattern import Gauge, Pattern, YarnColour
from publisher.source.chart import MOST_COLUMNS, MOST_KNOTS, MOST_ROWS, too_large

if TYPE_CHECKING:
    from publisher.charting.values import Drawing, DrawnChart
    from publisher.model.plan import CellSize

USUAL_COLOURS = 8


def chart_picture(
    picture: str | Path,
    into: str | Path,
    *,
    columns: int,
    colours: int = USUAL_COLOURS,
    yarns: str | None = None,
) -> Charted:
    """Make a chart of `picture`, so many columns wide, in the pattern file `into`.

    A file that is not there is made; of one that is, the first chart is replaced and, without
    `yarns`, the colours. `colours`: the most that the chart may have. `yarns`: "house" chooses
    them from the house's own. UsageError where the call is wrong, SourceError where a file is,
    OutputError where the pattern can't be written: nothing has changed then.
    """
    from publisher.source import open_photo

    picture, into = Path(picture), Path(into)
    check_call(into, columns, colours, yarns)
    old = read_old(into)
    shelf = find_shelf(
        into, old.pattern if old else None, old.target if old else None, yarns is not None
    )
    job = Job(picture, open_photo(picture), into, old, shelf, columns, colours)
    drawn = _draw(job)
    return _put(job, drawn)


def _draw(job: Job) -> DrawnChart:
    """The chart in the proportion of its knots, which hangs on the yarns of its colours."""
    from publisher.charting import draw_chart
    from publisher.charting.values import Choice

    choice = Choice(
        job.most,
        tuple(colour.srgb for colour in job.shelf.only),
        tuple(colour.srgb for colour in job.there),
        tuple(colour.srgb for colour in job.own),
    )
    used: Sequence[YarnColour] = job.shelf.only
    drawn, rows = None, 0
    for _ in range(2):  # the second time where its yarns are not as thick as was thought
        wanted = _rows(job, _cell(job, used))
        if wanted == rows:
            break
        rows = wanted
        drawn = draw_chart(job.photo, job.columns, rows, choice)
        if drawn is None:
            message = "nothing can be seen in this picture: all of it is see-through"
            raise SourceError(
                Problem(Place(str(job.picture)), message, "fill it, and save it again")
            )
        used = _most_used_first(job, drawn)
    assert drawn is not None
    return drawn


def _most_used_first(job: Job, drawn: DrawnChart) -> list[YarnColour]:
    """The colours that the tidied chart has."""
    every = _colours(job, drawn)
    knots = Counter(at for row in drawn.drawings[-1].cells for at in row)
    return [every[at] for at, _ in knots.most_common()]


def _cell(job: Job, colours: Sequence[YarnColour]) -> CellSize:
    """The size of a knot: by the piece's swatch, or the thickest of these colours' yarns."""
    from publisher.plan.cord import cell_size, chart_hitch

    thick = [colour.yarn.diameter_mm for colour in colours] or [job.shelf.new_yarn.diameter_mm]
    if job.old is None:
        return cell_size(Gauge(), chart_hitch(), 2, thick[0], thick)
    target = job.old.target
    cord_mm = job.old.pattern.colour(target.cords.colour).yarn.diameter_mm
    hitch = chart_hitch(target.knot)
    return cell_size(target.gauge, hitch, target.cords.strands, cord_mm, thick)


def _rows(job: Job, cell: CellSize) -> int:
    """Return as many rows as keep the picture's proportion. UsageError where that is a chart too
    large."""
    slope = cell.width_mm / cell.height_mm / job.photo.proportion
    rows = max(1, round(job.columns * slope))
    wrong = too_large(job.columns, rows)
    if wrong:
        most = int(min(MOST_COLUMNS, (MOST_ROWS - 1) / slope, (MOST_KNOTS / slope) ** 0.5 - 1))
        hint = f"choose at most --columns {most:,}" if most > 0 else "cut the picture"
        raise wrong_call(str(job.picture), wrong, hint)
    return rows


def _put(job: Job, drawn: DrawnChart) -> Charted:
    """Write the file with the tidiest chart that takes no more yarns than the untidied one."""
    from publisher.charting.values import MOST_COUNTED
    from publisher.plan import count_yarns

    every = _colours(job, drawn)
    before = _cells(drawn.drawings[0], every)
    counted = sum(map(len, before)) <= MOST_COUNTED
    yarns_before: int | None = None
    for drawing in reversed(drawn.drawings):
        cells = _cells(drawing, every)
        text = _text(job, every, cells)
        pattern = _read_new(job, text)
        piece = pattern.charts[0]
        if not counted:
            yarns = None
            break
        if yarns_before is None:
            there = {colour.letter for colour in pattern.colours}
            more = tuple(colour for colour in every if colour.letter not in there)
            untidied = replace(pattern, colours=(*pattern.colours, *more))
            yarns_before = count_yarns(replace(piece, cells=before), untidied)
        yarns = yarns_before, count_yarns(piece, pattern)
        if yarns[1] <= yarns_before:
            break
    put_finished(job.path.resolve() if job.path.is_symlink() else job.path, text.encode())
    singles = drawn.drawings[0].single_knots, drawing.single_knots
    return _told(job, drawn, pattern, Tidied(singles, yarns))


def _colours(job: Job, drawn: DrawnChart) -> tuple[YarnColour, ...]:
    """Each drawn colour as the file has it, or will have it: letter, name and yarn."""
    from publisher.charting import choose_letters, name_colours

    stay = [c for c in job.own if c in job.there or c.srgb in drawn.colours]
    there = {colour.srgb: colour for colour in reversed(stay)}
    shelf = {colour.srgb: colour for colour in job.shelf.only}
    new = [srgb for srgb in drawn.colours if srgb not in there]
    if shelf:
        fresh = [shelf[srgb] for srgb in new]
    else:
        names = name_colours(new, [colour.name for colour in stay])
        yarn = job.shelf.new_yarn
        fresh = [YarnColour("", name, srgb, yarn) for name, srgb in zip(names, new, strict=True)]
    letters = choose_letters(
        [colour.name for colour in fresh],
        [colour.letter or None for colour in fresh],
        [colour.letter for colour in stay],
    )
    for colour, letter in zip(fresh, letters, strict=True):
        there[colour.srgb] = replace(colour, letter=letter)
    return tuple(there[srgb] for srgb in drawn.colours)


def _cells(drawing: Drawing, colours: Sequence[YarnColour]) -> tuple[str, ...]:
    letters = [colour.letter for colour in colours]
    return tuple("".join([letters[at] for at in row]) for row in drawing.cells)


def _text(job: Job, every: Sequence[YarnColour], cells: tuple[str, ...]) -> str:
    """The file's text with this chart in it."""
    from publisher.source.newchart import charted_pattern
    from publisher.source.rewrite import Change, rewrite

    knots = Counter("".join(cells))
    used = sorted((c for c in every if knots[c.letter]), key=lambda c: -knots[c.letter])
    if job.old is None:
        return charted_pattern(
            job.path.stem,
            used,
            cells,
            own_yarn=not job.shelf.in_house,
            own_names=bool(job.shelf.only),
        )
    new = tuple(colour for colour in used if colour not in job.own)
    stay = None if job.shelf.only else frozenset(c.letter for c in used if c in job.own)
    change = Change(cells, new, stay)
    return rewrite(job.old.raw, job.old.pattern, change)


def _read_new(job: Job, text: str) -> Pattern:
    """The pattern that the text is. SourceError where it is none: then it is not written."""
    from publisher.source import read_pattern
    from publisher.tables.text_files import as_read

    try:
        return read_pattern(job.path, text=as_read(text))
    except SourceError as error:
        problem = error.problems[0]
        message = f"with this chart the file would not be right ({problem.message})"
        raise SourceError(replace(problem, message=f"{message}, so nothing was changed")) from None


def _told(job: Job, drawn: DrawnChart, pattern: Pattern, tidied: Tidied) -> Charted:
    from publisher.plan.chart import yarn_rules

    piece = pattern.charts[0]
    knots = Counter("".join(piece.cells))
    cell = yarn_rules(piece, pattern, knots).cell
    used = [(c, knots[c.letter]) for c in pattern.colours if knots[c.letter]]
    return Charted(
        path=job.path,
        columns=piece.columns,
        rows=piece.rows,
        width_mm=piece.columns * cell.width_mm,
        height_mm=piece.rows * cell.height_mm,
        measured=cell.measured,
        units=pattern.units,
        colours=tuple(sorted(used, key=lambda counted: -counted[1])),
        tidied=tidied,
        replaced=_replaced(job, pattern),
        pictures=job.photo.pictures,
        pixels=job.photo.across,
        see_through=drawn.see_through,
        patterns=job.shelf.patterns,
        passed_over=job.shelf.passed_over,
    )


def _replaced(job: Job, pattern: Pattern) -> Replaced | None:
    if job.old is None:
        return None
    target, own = job.old.target, job.old.pattern.colours
    picture = "" if target.pixel_proportion is None else target.place.file
    gone = tuple(colour for colour in own if colour not in pattern.colours)
    knots = {*"".join(pattern.charts[0].cells)}
    kept = tuple(c for c in own if c in pattern.colours and c.letter not in knots)
    return Replaced(target.id, target.columns, target.rows, picture, gone, kept)
