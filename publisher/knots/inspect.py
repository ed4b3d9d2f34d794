"""Look at a writer's own knot for what a picture cannot show: cords that touch or graze, and
whether they come in and go out as the file says."""

from __future__ import annotations

from publisher.errors import Place, Problem
from publisher.knots.model import Knot, KnotForm
from publisher.knots.tied import why_not_tied
from publisher.tables.places import line_of

LEAST_GAP = 0.02
"""Heights nearer than this (in cord diameters) don't say which cord is on top."""
LEAST_SINE = 0.1
"""Cords that meet at less than about 6 degrees run along each other rather than cross."""


def inspect(knot: Knot, text: str, file: str) -> list[Problem]:
    """Problems of the drawing, at the line of the strand they concern."""
    problems = _form_problems(knot.loose, "points", text, file)
    if knot.tight:
        problems += _form_problems(knot.tight, "tight", text, file)
    if (knot.cords_in or knot.tying) and not problems:
        key, message, hint = why_not_tied(knot)
        if message:
            problems.append(Problem(Place(file, line_of(text, (key,))), message, hint))
    return problems


def _form_problems(form: KnotForm, key: str, text: str, file: str) -> list[Problem]:
    problems = []
    for crossing in form.crossings:
        one, other = crossing.over.strand, crossing.under.strand
        place = Place(file, line_of(text, ("strands", one, key)))
        x, y = round(crossing.place.real, 1) + 0.0, round(crossing.place.imag, 1) + 0.0
        where = f"at {x}, {y}"
        if crossing.gap < LEAST_GAP:
            message = f"{one} and {other} touch {where}"
            problems.append(Problem(place, message, "give one of them more height there"))
        elif crossing.sine < LEAST_SINE:
            message = f"{one} and {other} graze each other {where}"
            problems.append(Problem(place, message, "let them cross more squarely, or not at all"))
    return problems
