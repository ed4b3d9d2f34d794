"""Write the sheet for earlier buyers: what it means for them first, then every change."""

from __future__ import annotations

import datetime

from publisher.errata.compare.changes import Errata
from publisher.errata.sheet.charts import chart_blocks
from publisher.errata.sheet.context import EarlierRelease, ErrataSheet
from publisher.errata.sheet.lists import list_blocks
from publisher.errata.sheet.meaning import meaning
from publisher.errata.sheet.pieces import colour_blocks, piece_blocks, word_blocks
from publisher.errata.sheet.rows import last_row_blocks, row_sections
from publisher.knots import KnotLibrary
from publisher.manuscript.blocks import (
    Block,
    Caution,
    Heading,
    Items,
    Manuscript,
    Paragraph,
    Section,
    Text,
)
from publisher.manuscript.context import BookContext
from publisher.manuscript.edition import read_errata_edition
from publisher.manuscript.measures import Measures
from publisher.manuscript.options import Form, Hand
from publisher.manuscript.sections.cautions import caution_words
from publisher.manuscript.words import read_words
from publisher.model.pattern import Pattern
from publisher.model.plan import Plan
from publisher.templates import Templates


def write_errata(
    pattern: Pattern,
    plan: Plan,
    knots: KnotLibrary,
    templates: Templates,
    paper: str,
    errata: Errata,
    earlier: EarlierRelease,
    *,
    date: datetime.datetime,
    form: Form = "pages",
    hand: Hand = "right",
    both_hands: bool = False,
) -> Manuscript:
    """The errata of a release, `plan` and `pattern` being the new ones. `form`: pages or text.
    `hand`: whose pattern, plan and errata it is; `both_hands`: the other has a sheet of its own.
    """
    words = read_words(templates)
    edition = read_errata_edition(templates, paper, form, hand)
    context = BookContext(
        pattern, plan, knots, edition, words, Measures(words, pattern.units), templates
    )
    sheet = ErrataSheet(context, errata, earlier, both_hands)
    return Manuscript(
        title=pattern.title,
        author=pattern.designer,
        subject=sheet("subject"),
        keywords=(),
        language=words.language,
        date=date,
        version=pattern.version,
        edition=edition.title,
        house=pattern.designer,
        sections=(_section(sheet, date), *row_sections(sheet)),
        colours=plan.colours,
        look=edition.look,
        words=words.under("frame"),
    )


def _section(sheet: ErrataSheet, date: datetime.datetime) -> Section:
    title = sheet("title")
    body: list[Block] = [Paragraph(_lead(sheet, date))]
    body += [Heading(sheet("means.title")), Items(tuple(meaning(sheet)))]
    body += _cautions(sheet)
    lists, work = [*list_blocks(sheet)], [*chart_blocks(sheet), *colour_blocks(sheet)]
    body += [*lists, *work] if sheet.errata.short else [*work, *lists]
    body += piece_blocks(sheet)
    body += word_blocks(sheet)
    if sheet.errata.order:
        body.append(Paragraph(sheet.say("order_only")))
    body += last_row_blocks(sheet)
    return Section("errata", "text", title, sheet("running"), tuple(body), bookmark=title)


def _lead(sheet: ErrataSheet, date: datetime.datetime) -> Text:
    before = sheet.earlier.date
    values = {"title": sheet.context.pattern.title, "date": _day(sheet, date)}
    if before is None:
        said = sheet.say("lead", **values)
    else:
        said = sheet.say("lead_dated", **values, before=_day(sheet, before))
    if sheet.context.edition.hand == "left":
        said += sheet.say("lead_left")
    elif sheet.both_hands:
        said += sheet.say("lead_right")
    if sheet.earlier.older:
        said += sheet.say("lead_older")
    contact = sheet.context.pattern.contact
    return said + sheet.say("contact", contact=contact) if contact else said


def _day(sheet: ErrataSheet, day: datetime.date) -> str:
    return f"{day.day} {sheet.words(f'months.{day.month}')} {day.year}"


def _cautions(sheet: ErrataSheet) -> list[Block]:
    errata = sheet.errata
    found: list[Block] = []
    if errata.cautions_added:
        texts = caution_words(sheet.context, errata.cautions_added)
        found.append(Caution(sheet("cautions_added"), texts))
    if errata.cautions_removed:
        found.append(Paragraph(sheet.say("cautions_removed")))
    return found
