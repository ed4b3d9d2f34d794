"""Write a class handout's first and last page: the kits, and room for notes."""

from __future__ import annotations

from publisher.manuscript.blocks import Block, Caution, Heading, Items, NoteLines, Section
from publisher.manuscript.context import BookContext
from publisher.manuscript.sections.cautions import caution_words
from publisher.manuscript.sections.materials import (
    cutting_blocks,
    shopping_blocks,
    tools,
    yarns_to_buy,
)
from publisher.manuscript.sections.part_needs import part_tools
from publisher.plan.lists.shopping import shop_for_class


def write_kit(context: BookContext) -> Section:
    """A kit a student, and what to buy for all of them with some to spare."""
    words = context.words
    body: list[Block] = [Heading(words("kit.one"), words("kit.one_lead"))]
    for chart in context.charts:
        body.append(Items(tuple(tools(context, chart)), role="table"))
    extra = part_tools(context)
    if extra:
        body.append(Items(tuple(extra), role="table"))
    body += cutting_blocks(context)
    body += _class_shopping(context)
    return Section("kit", "text", context.plan.title, words("kit.running"), tuple(body))


def _class_shopping(context: BookContext) -> list[Block]:
    words = context.words
    students = context.edition.option("students")
    spare = context.edition.option("spare_percent")
    key = "kit.shopping_lead" if spare else "kit.shopping_lead_no_spare"
    lead = words(key, yarns=yarns_to_buy(context), percent=spare)
    heading = Heading(words.count("kit.shopping", students), lead, target="shopping-list")
    shopping = shop_for_class(context.plan, students, spare)
    return [heading, *shopping_blocks(context, shopping, with_knots=False)]


def write_class_notes(context: BookContext) -> Section:
    """Lines to write on, as many as fill the page; above them what can hurt, if the edition does
    not say it earlier."""
    words = context.words
    notes = words("kit.notes")
    lines = NoteLines(context.edition.option("note_lines"))
    cautions = caution_words(context, context.plan.cautions)
    if not cautions or "cautions" in context.edition.sections:
        return Section("class-notes", "text", notes, notes, (lines,))
    body = (Caution(words("cautions.gathered"), cautions), Heading(notes), lines)
    title = words("cautions.running")
    return Section("class-notes", "text", title, title, body)
