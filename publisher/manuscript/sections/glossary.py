"""Write the knot glossary: only the knots that the pattern uses, stage by stage."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import Literal

from publisher.knots import Knot
from publisher.knots.refill import with_fillers
from publisher.knots.turn import mirror_knot
from publisher.manuscript.blocks import (
    Block,
    Facts,
    Heading,
    Paragraph,
    Picture,
    Section,
    Strip,
)
from publisher.manuscript.context import BookContext, knot_target
from publisher.manuscript.handedness import drawn_hands, procedure_hand, rows_drawn, worked_hands
from publisher.manuscript.knot_figures import figure_width_mm, knot_stages
from publisher.manuscript.markup import read_marks
from publisher.manuscript.options import Hand
from publisher.manuscript.sections.procedures import needed_procedures
from publisher.model import units
from publisher.model.plan import ChartPlan

_BRIEF_SHARES = (29.0, 140.0)
"""A knot's name, and four of its stages beside it."""


def write_glossary(context: BookContext) -> list[Section]:
    """A page for each chart's knot, worked both ways; then the others, in the order met. None where
    nothing is knotted.

    In brief, all follow one another and nothing but the stages is told.
    """
    if context.edition.option("knots_in_brief"):
        return [_in_brief(context)] if context.used_knots else []
    charts = {chart.piece.knot: chart for chart in reversed(context.charts)}
    sections = [_chart_knot(context, context.knots[name], chart) for name, chart in charts.items()]
    others = [knot for knot in context.used_knots if knot.name not in charts]
    if others:
        body = tuple(_two_by_two(context, others))
        sections.append(
            Section(
                "knots" if not sections else "knots-others",
                "text",
                context.words("knots.others" if sections else "knots.title"),
                context.words("knots.running"),
                body,
                continues=bool(sections),
                bookmarks=tuple((titled(knot), knot_target(knot.name)) for knot in others),
            )
        )
    procedures = [
        context.knots[name] for name in needed_procedures(context.charts) if name in context.knots
    ]
    if procedures:
        body = tuple(_two_by_two(context, procedures))
        sections.append(
            Section(
                "knots-handling",
                "text",
                context.words("knots.handling"),
                context.words("knots.running"),
                body,
                continues=bool(sections),
                bookmarks=tuple((titled(knot), knot_target(knot.name)) for knot in procedures),
            )
        )
    return sections


def _in_brief(context: BookContext) -> Section:
    charts = {chart.piece.knot: chart for chart in context.charts}
    body: list[Block] = []
    for knot in context.used_knots:
        chart = charts.get(knot.name)
        name: list[Block] = [
            Heading(titled(knot), knot.abbreviation, target=knot_target(knot.name))
        ]
        if chart and chart.piece.order == "zigzag":
            name.append(Paragraph(context.words.say("knots.brief_mirror"), "lead-in"))
        hand = drawn_hands(context, knot.name)[0]
        strip = _strip(context, knot, hand, chart.piece.cords.strands if chart else 2)
        body += context.beside((tuple(name), (strip,)), _BRIEF_SHARES)
    return Section(
        "knots",
        "text",
        context.words("knots.title"),
        context.words("knots.running"),
        tuple(body),
    )


def _chart_knot(context: BookContext, knot: Knot, chart: ChartPlan) -> Section:
    hands = worked_hands(chart)
    shown = _as_drawn(with_fillers(knot, chart.piece.cords.strands), hands[0])
    intro = Paragraph(read_marks(_marks(shown.intro)))
    facts = Facts(tuple(_facts(context, chart)), term_mm=18.0)
    body = context.beside(((intro,), (facts,)), (1.0, 1.0))
    for hand in hands:
        body += _hand(context, knot, chart, hand, first=hand == hands[0])
    body += _check(context, shown)
    return Section(
        "knots",
        "text",
        titled(knot),
        context.words("knots.running"),
        tuple(body),
        note=knot.abbreviation,
        bookmarks=((titled(knot), knot_target(knot.name)),),
        also=(knot_target(knot.name),),
    )


def _hand(
    context: BookContext, knot: Knot, chart: ChartPlan, hand: Hand, *, first: bool
) -> Iterator[Block]:
    words = context.words
    rows = words("knots.every_row")
    if chart.piece.order == "zigzag":
        odd = (hand == "right") == (chart.piece.first_row_from == "left")
        rows = words("knots.odd_rows" if odd else "knots.even_rows")
    lead = rows if first else words("knots.mirror", rows=rows)
    side: Literal["left", "right"] = "left" if hand == "right" else "right"
    yield Heading(words(f"knots.to_{hand}"), lead, arrow=side)
    yield _strip(context, knot, hand, chart.piece.cords.strands)


def _two_by_two(context: BookContext, knots: Sequence[Knot]) -> Iterator[Block]:
    """Knots under one another; two that follow, with few enough stages, side by side."""
    waiting = list(knots)
    while waiting:
        knot = waiting.pop(0)
        own = tuple(_small_knot(context, knot))
        if waiting and all(_in_half(context, one) for one in (knot, waiting[0])):
            yield from context.beside(
                (own, tuple(_small_knot(context, waiting.pop(0)))), (1.0, 1.0)
            )
        else:
            yield from own


def _in_half(context: BookContext, knot: Knot) -> bool:
    """Do a knot's stages stand in half a line, none of them smaller than usual?"""
    look = context.edition.look
    gap, usual = look.frame.column_gap_mm, _usual_mm(context)
    return len(knot.stages) * (usual + gap) <= (look.paper.text_width_mm + gap) / 2 + 0.1


def _usual_mm(context: BookContext) -> float:
    usual: float = context.edition.option("knot_figure_mm")
    return usual


def _small_knot(context: BookContext, knot: Knot) -> Iterator[Block]:
    handling = knot.kind == "procedure"
    usual = context.edition.hand
    hand = procedure_hand(context.charts, knot, usual) if handling else usual
    shown = _as_drawn(knot, hand)
    lead = rows_drawn(context, shown) if handling else knot.abbreviation
    yield Heading(titled(knot), lead, target=knot_target(knot.name))
    yield Paragraph(read_marks(_marks(shown.intro)), keep=True)
    strip = _strip(context, knot, hand, 2)
    check = tuple(_check(context, shown))
    beside = _beside_mm(context, knot)
    if check and beside:
        yield from context.beside(((replace(strip, keep=True),), check), beside)
    else:
        yield replace(strip, keep=bool(check))
        yield from check


def _as_drawn(knot: Knot, hand: Hand) -> Knot:
    """The knot with the words that go with its drawing in this hand."""
    return mirror_knot(knot) if hand == "left" else knot


def _beside_mm(context: BookContext, knot: Knot) -> tuple[float, float] | None:
    """The widths of a strip and of the column beside it, where just one more figure could stand."""
    look = context.edition.look
    gap, usual = look.frame.column_gap_mm, _usual_mm(context)
    left = look.paper.text_width_mm - len(knot.stages) * (usual + gap)
    if not usual - 0.1 <= left < 2 * usual + gap:
        return None
    return look.paper.text_width_mm - gap - left, left


def _strip(context: BookContext, knot: Knot, hand: Hand, strands: int) -> Strip:
    usual = _usual_mm(context)
    wide = figure_width_mm(context.edition, len(knot.stages))
    figures, words = knot_stages(knot, context.edition.look, hand, strands, wide, context.store)
    pictures = []
    for number, (figure, said) in enumerate(zip(figures, words, strict=True), 1):
        alt = context.words("knots.alt", title=knot.title, n=number, words=figure.alt)
        pictures.append(Picture(figure.with_alt(alt), read_marks(_marks(said))))
    column_mm = context.edition.option("knot_column_mm")
    gap, room = context.edition.look.frame.column_gap_mm, context.edition.look.paper.text_width_mm
    in_line = wide < usual and len(pictures) * (wide + gap) <= room + gap + 0.1
    return Strip(tuple(pictures), in_line=in_line, column_mm=column_mm)


def titled(knot: Knot) -> str:
    """A knot's name at the head of something."""
    return knot.title[0].upper() + knot.title[1:]


def _check(context: BookContext, knot: Knot) -> Iterator[Block]:
    if knot.check:
        yield Paragraph(
            read_marks(_marks(context.words("knots.check", check=knot.check))), whole=True
        )


def _marks(words: str) -> str:
    """A knot file's words, in which braces mean nothing."""
    return words.replace("{", "{{").replace("}", "}}")


def _facts(context: BookContext, chart: ChartPlan) -> Iterator[tuple[str, tuple[str, ...]]]:
    words = context.words
    lengths = [
        words("units.mm", n=units.millimetres(round(length)))
        for length in dict.fromkeys(chart.yarn_mm_per_knot.values())
    ]
    if len(lengths) > 1:
        takes = words("knots.takes_colours", lengths=", ".join(lengths))
    else:
        key = "takes_swatch" if chart.piece.gauge.tells_yarn else "takes_computed"
        takes = words(f"knots.{key}", length=lengths[0])
    yield words("knots.takes"), (takes,)
    yield (
        words("knots.size"),
        (
            words(
                "knots.size_value",
                width=words("units.mm", n=units.millimetres(chart.cell.width_mm)),
                height=words("units.mm", n=units.millimetres(chart.cell.height_mm)),
            ),
        ),
    )
    yield words("knots.used"), (words.count("knots.used_picture", chart.total_knots),)
