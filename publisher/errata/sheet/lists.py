"""Tell what changed in what to buy and what to cut, as tables."""

from __future__ import annotations

from collections.abc import Iterator

from publisher.errata.compare.changes import BuyChange, CutChange
from publisher.errata.compare.content import BuyTold
from publisher.errata.sheet.context import ErrataSheet
from publisher.manuscript.blocks import Block, Cell, Column, Heading, Table, TableRow
from publisher.manuscript.sections.cutting import counted, use_words
from publisher.model import units

_MOST_LENGTHS = 4


def list_blocks(sheet: ErrataSheet) -> Iterator[Block]:
    if sheet.errata.shopping:
        yield Heading(sheet("buy"), sheet("buy_lead"))
        yield _shopping(sheet)
    if sheet.errata.cutting:
        yield Heading(sheet("cut"), sheet("cut_lead"))
        yield _cutting(sheet)


def _shopping(sheet: ErrataSheet) -> Table:
    columns = (
        Column(sheet.words("materials.colour"), 50),
        Column(sheet("version_old"), 44),
        Column(sheet("version_new"), 44),
        Column(sheet("buy_means"), 36),
    )
    rows = [
        TableRow(
            (
                sheet.colour_cell(change.colour),
                _bought(sheet, change.before, change.before_imperial),
                _bought(sheet, change.after, change.after_imperial),
                Cell(_buy_means(sheet, change)),
            )
        )
        for change in sheet.errata.shopping
    ]
    return Table(columns, tuple(rows))


def _bought(sheet: ErrataSheet, line: BuyTold | None, in_imperial: tuple[float, float]) -> Cell:
    """`61 m, 275 g`, and in the other system."""
    if line is None:
        return Cell(sheet("nothing"))
    words = sheet.words
    m, yd, g, oz = (words(f"materials.unit_{name}") for name in ("m", "yd", "g", "oz"))
    metric = f"{units.whole(line.length_m)} {m}, {units.whole(line.mass_g)} {g}"
    yards, ounces = in_imperial
    imperial = f"{units.whole(yards)} {yd}, {units.decimal(ounces, 1)} {oz}"
    first, second = (
        (metric, imperial) if sheet.context.measures.metric_first else (imperial, metric)
    )
    balls = () if line.balls is None else (sheet.count("balls", line.balls),)
    return Cell(", ".join((first, *balls)), second)


def _buy_means(sheet: ErrataSheet, change: BuyChange) -> str:
    """Return what a maker has to do who bought by the old list."""
    was, now = change.before, change.after
    if now is None:
        return sheet("buy_none")
    if was is None or was.yarn != now.yarn:
        return sheet("buy_new")
    if not change.short:
        return sheet("buy_enough")
    balls = (now.balls or 0) - (was.balls or 0)
    return sheet.count("buy_balls", balls) if balls > 0 else sheet("buy_more")


def _cutting(sheet: ErrataSheet) -> Table:
    columns = (
        Column(sheet.words("materials.colour"), 46),
        Column(sheet("version_old"), 42),
        Column(sheet("version_new"), 42),
        Column(sheet("cut_means"), 44),
    )
    many = len(sheet.context.plan.pieces) > 1
    rows: list[TableRow] = []
    group = ""
    for change in sheet.errata.cutting:
        name = use_words(sheet.context, change.purpose, change.piece if many else "")
        if name != group:
            rows.append(TableRow((Cell(name),), "group"))
            group = name
        rows.append(
            TableRow(
                (
                    sheet.colour_cell(change.colour),
                    _lengths(sheet, change.before),
                    _lengths(sheet, change.after),
                    _cut_means(sheet, change),
                )
            )
        )
    return Table(columns, tuple(rows))


def _lengths(sheet: ErrataSheet, lengths: tuple[tuple[int, float], ...]) -> Cell:
    """`12 × 300 cm, 89 cm`; of many lengths, how many and the longest and shortest."""
    if not lengths:
        return Cell(sheet("nothing"))
    cm = [units.centimetres(length, "up") for _, length in lengths]
    inch = [units.inches(length, "up") for _, length in lengths]
    texts = []
    for key, sizes in (("cm", cm), ("inch", inch)):
        if len(lengths) > _MOST_LENGTHS:
            count = sum(count for count, _ in lengths)
            text = sheet("lengths", n=units.whole(count), longest=sizes[0], shortest=sizes[-1])
        else:
            text = counted([count for count, _ in lengths], sizes)
        texts.append(sheet.words(f"units.{key}", n=text))
    first, second = texts if sheet.context.measures.metric_first else texts[::-1]
    return Cell(first, second)


def _cut_means(sheet: ErrataSheet, change: CutChange) -> Cell:
    """Return what is still to be cut by who has cut by the old list."""
    if not change.after:
        return Cell(sheet("cut_none"))
    if not change.more:
        return Cell(sheet("cut_enough"))
    lengths = _lengths(sheet, change.more)
    return Cell(sheet("cut_more", lengths=lengths.text), lengths.second)
