"""Tell each earlier buyer what the changes mean: bought, cut, begun, finished."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from publisher.errata.compare.changes import BuyChange, ChartChange
from publisher.errata.sheet.context import ErrataSheet
from publisher.manuscript.blocks import Text
from publisher.manuscript.phrases import listed, ranges
from publisher.model import units

_HARMLESS = (
    "allowance_percent",
    "full_length_mm",
    "dowel_length_mm",
    "hanging_loop_mm",
    "make",
    "cords_mm",
    "fringe",
    "size",
    "measured",
)
"""What a piece can be told otherwise without one of its rows being worked otherwise."""


def meaning(sheet: ErrataSheet) -> Iterator[Text]:
    """A sentence for each stage that a maker can be at."""
    yield sheet.say("means.not_begun")
    yield from _bought(sheet)
    yield from _cut(sheet)
    yield from _begun(sheet)
    key = "means.finished" if sheet.errata.touches_finished else "means.finished_untouched"
    yield sheet.say(key)


def _bought(sheet: ErrataSheet) -> Iterator[Text]:
    short = [change for change in sheet.errata.shopping if change.short]
    if short:
        more = listed(sheet.words, [_more(sheet, change) for change in short])
        yield sheet.say("means.bought_short", more=more)
    elif sheet.errata.shopping:
        yield sheet.say("means.bought_enough")


def _more(sheet: ErrataSheet, change: BuyChange) -> str:
    """`one more ball of B kingfisher blue`, or so many metres of it."""
    was, now = change.before, change.after
    assert now is not None, "nobody is short of what is not needed"
    colour = sheet.colour(change.colour)
    same = was is not None and was.yarn == now.yarn
    if now.balls is not None and (was is None or was.balls is not None or not same):
        balls = now.balls - (was.balls or 0 if same and was else 0)
        if balls > 0:
            key = "means.balls_more" if same else "means.balls"
            return sheet.count(key, balls, colour=colour)
    metres = now.length_m - (was.length_m if same and was else 0.0)
    if metres <= 0:  # lighter yarn than it was told: more grams, or smaller balls
        return sheet("means.anew", colour=colour, length=_length(sheet, now.length_m))
    key = "means.length_more" if same else "means.length"
    return sheet(key, colour=colour, length=_length(sheet, metres))


def _length(sheet: ErrataSheet, length_m: float) -> str:
    """`12 m (14 yd)`, rounded up."""
    metric = f"{units.metres(length_m * 1000)} {sheet.words('materials.unit_m')}"
    imperial = f"{units.yards(length_m * 1000)} {sheet.words('materials.unit_yd')}"
    first, second = (
        (metric, imperial) if sheet.context.measures.metric_first else (imperial, metric)
    )
    return sheet.words("units.both", first=first, second=second)


def _cut(sheet: ErrataSheet) -> Iterator[Text]:
    if any(change.more for change in sheet.errata.cutting):
        yield sheet.say("means.cut_short") + _after_cutting(sheet)
    elif sheet.errata.cutting:
        yield sheet.say("means.cut_enough")


def _after_cutting(sheet: ErrataSheet) -> Text:
    """Return what is to be bought besides by who has cut everything."""
    told = [
        sheet("means.length_more", colour=colour, length=_length(sheet, more.length_m))
        if more.balls is None
        else sheet.count("means.balls_more", more.balls, colour=colour)
        for more in sheet.errata.after_cutting
        for colour in [sheet.colour(more.colour)]
    ]
    return sheet.say("means.cut_buy", more=listed(sheet.words, told)) if told else ()


def _begun(sheet: ErrataSheet) -> Iterator[Text]:
    """Yield how far a piece can be worked by the old pattern."""
    many = len(sheet.context.charts) > 1
    other = _other_colours(sheet)
    for change in sheet.errata.charts:
        first = first_row(change, other)
        piece = sheet.context.piece_name(change.piece)
        if first == 1 or not _rows_stay(sheet, change, other):
            key = "means.begun_anew"
        elif first is None:
            key = "means.begun_same"
        else:
            key = "means.begun_two" if first == 2 else "means.begun"
        key = f"{key}_piece" if many else key
        yield sheet.say(
            key, row=first or 0, rows=ranges(sheet.words, range(1, first or 1)), piece=piece
        )


def _other_colours(sheet: ErrataSheet) -> frozenset[str]:
    """Letters of the colours that are not the yarn, or not the shade, that they were."""
    errata = sheet.errata
    yarns = {change.after.key for change in errata.yarns if change.after and change.is_another}
    shades = {
        change.after.letter
        for change in errata.colours
        if change.after and {"srgb", "yarn"} & {*change.changed}
    }
    colours = sheet.context.plan.colours
    return frozenset(shades | {one.letter for one in colours if one.yarn.key in yarns})


def _rows_stay(sheet: ErrataSheet, change: ChartChange, other: frozenset[str]) -> bool:
    """Return whether what stands above the first changed row is worked as it was, on the same
    cords."""
    chart = next(chart for chart in sheet.context.charts if chart.id == change.piece)
    facts = any(fact.name not in _HARMLESS for fact in change.facts)
    return not (change.redrawn or facts or chart.piece.cords.colour in other)


def first_row(change: ChartChange, other: frozenset[str]) -> int | None:
    """The first row that is worked otherwise, by its new number; None where none is.

    `other`: the letters of colours that are not what they were.
    """
    rows: Sequence[int] = (
        *change.rows_changed,
        *change.removed,
        *(move.first for move in change.moved),
        *(row for row, cells in enumerate(change.cells, 1) if not other.isdisjoint(cells)),
    )
    return min(rows) if rows else None
