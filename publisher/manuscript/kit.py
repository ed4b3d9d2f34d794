"""Write a class handout's first and last page: the kits, and room for notes."""

from __future__ import annotations

from publisher.manuscript.blocks import Block, Caution, Heading, Items, NoteLines, Section
from publisher.manuscript.brief import Brief
from publisher.manuscript.cautions import caution_words
from publisher.manuscript.materials import cutting_blocks, shopping_blocks, tools, yarns_to_buy
from publisher.manuscript.part_needs import part_tools
from publisher.plan.classroom import shop_for_class


def write_kit(brief: Brief) -> Section:
    """A kit a student, and what to buy for all of them with some to spare."""
    words = brief.words
    body: list[Block] = [Heading(words("kit.one"), words("kit.one_lead"))]
    for chart in brief.charts:
        body.append(Items(tuple(tools(brief, chart)), role="table"))
    extra = part_tools(brief)
    if extra:
        body.append(Items(tuple(extra), role="table"))
    body += cutting_blocks(brief)
    body += _class_shopping(brief)
    return Section("kit", "text", brief.plan.title, words("kit.running"), tuple(body))


def _class_shopping(brief: Brief) -> list[Block]:
    words = brief.words
    students = brief.edition.option("students")
    spare = brief.edition.option("spare_percent")
    key = "kit.shopping_lead" if spare else "kit.shopping_lead_no_spare"
    lead = words(key, yarns=yarns_to_buy(brief), percent=spare)
    heading = Heading(words.count("kit.shopping", students), lead, target="shopping-list")
    shopping = shop_for_class(brief.plan, students, spare)
    return [heading, *shopping_blocks(brief, shopping, with_knots=False)]


def write_class_notes(brief: Brief) -> Section:
    """Lines to write on, as many as fill the page; above them what can hurt, if the edition does
    not say it earlier."""
    words = brief.words
    notes = words("kit.notes")
    lines = NoteLines(brief.edition.option("note_lines"))
    cautions = caution_words(brief, brief.plan.cautions)
    if not cautions or "cautions" in brief.edition.sections:
        return Section("class-notes", "text", notes, notes, (lines,))
    body = (Caution(words("cautions.gathered"), cautions), Heading(notes), lines)
    title = words("cautions.running")
    return Section("class-notes", "text", title, title, body)
