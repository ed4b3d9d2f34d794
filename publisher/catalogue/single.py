"""Publish one pattern as one PDF, without a folder to put it in."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from publisher.catalogue.build.job import Planned, Toolkit, for_hand, lay_out
from publisher.catalogue.build.pipeline import Pipeline
from publisher.catalogue.build.reading import date_of
from publisher.catalogue.build.values import Target
from publisher.catalogue.calls import (
    check_students,
    check_templates,
    known_editions,
    known_papers,
    wrong_call,
)
from publisher.catalogue.workshop import read_own_knots, read_templates
from publisher.errors import FontError
from publisher.templates import Templates

if TYPE_CHECKING:
    from publisher.model.pattern import Pattern
    from publisher.model.plan import Plan


def publish(
    pattern: Pattern,
    plan: Plan | None = None,
    *,
    edition: str = "booklet",
    paper: str = "a4",
    students: int | None = None,
    templates: Templates | str | Path | None = None,
) -> bytes:
    """The PDF of one edition of a pattern.

    `plan`: from `make_plan(pattern)`; made here if it is not given, and for an edition of the left
    hand, which has a plan of its own. `students`: how many a class has, for an edition with a kit,
    if it is not what the edition says. `templates`: a folder whose files go before the installed
    ones. UsageError where there is no such edition, paper or folder, or the edition has no pages;
    TemplateError or FontError say what is wrong in the templates.
    """
    if not isinstance(templates, Templates):
        if templates:
            check_templates(Path(templates))
        templates = read_templates(Path(templates) if templates else None)
    (edition,), (paper,) = known_editions([edition], templates), known_papers([paper])
    pipeline = Pipeline()
    check_students(students, pipeline.counts_students(templates, edition))
    if pipeline.edition_form(templates, edition) != "pages":
        hint = "build_catalogue makes its files, as does `publisher build`"
        raise wrong_call(edition, "this edition has no pages, and no PDF", hint)
    toolkit = Toolkit(templates.files, read_own_knots(Path(pattern.path).parent), pipeline)
    toolkit.pipeline.refuse_unknown_terms(pattern, templates)
    unprintable = toolkit.pipeline.find_unprintable(pattern)
    if unprintable:
        raise FontError(*unprintable)
    hand = toolkit.pipeline.edition_hand(templates, edition)
    if plan is None or hand == "left":
        pattern = for_hand(pattern, hand)
        plan = toolkit.pipeline.make_plan(pattern)
    date = date_of(pattern.date)
    planned, target = Planned(pattern, plan), Target(edition, paper)
    book = lay_out(toolkit, planned, target, templates, date, students)
    return toolkit.pipeline.print_book(book)
