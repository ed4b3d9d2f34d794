"""Publish one pattern as one PDF, without a folder to put it in."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from publisher.catalogue.calls import (
    check_students,
    check_templates,
    known_editions,
    known_papers,
    wrong_call,
)
from publisher.catalogue.dates import date_of
from publisher.catalogue.stages import Stages
from publisher.catalogue.values import Target
from publisher.catalogue.working import Bench, Planned, for_hand, lay_out
from publisher.catalogue.workshop import read_own_knots, read_templates
from publisher.errors import FontError
from publisher.templates import Templates

if TYPE_CHECKING:
    from publisher.plan.values import Plan
    from publisher.source.pattern import Pattern


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
    stages = Stages()
    check_students(students, stages.counts_students(templates, edition))
    if stages.edition_form(templates, edition) != "pages":
        hint = "build_catalogue makes its files, as does `publisher build`"
        raise wrong_call(edition, "this edition has no pages, and no PDF", hint)
    bench = Bench(templates.files, read_own_knots(Path(pattern.path).parent), stages)
    bench.stages.refuse_unknown_terms(pattern, templates)
    unprintable = bench.stages.find_unprintable(pattern)
    if unprintable:
        raise FontError(*unprintable)
    hand = bench.stages.edition_hand(templates, edition)
    if plan is None or hand == "left":
        pattern = for_hand(pattern, hand)
        plan = bench.stages.make_plan(pattern)
    date = date_of(pattern.date)
    planned, target = Planned(pattern, plan), Target(edition, paper)
    book = lay_out(bench, planned, target, templates, date, students)
    return bench.stages.print_book(book)
