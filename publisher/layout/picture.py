"""Lay out the piece alone, as it will hang: the picture for a shop's listing."""

from __future__ import annotations

import datetime
from collections.abc import Callable

from publisher.drawing import draw_hanging, draw_part, place_parts
from publisher.drawing.base.numbers import number
from publisher.knots import Knot, KnotLibrary, load_knots
from publisher.manuscript.edition import house_look
from publisher.model.book import Book, Page
from publisher.model.figure import Figure
from publisher.model.look import Look
from publisher.model.plan import Plan
from publisher.store import NO_STORE, Store
from publisher.templates import Templates

_PICTURE_MM = 200.0
_BORDER_MM = 10.0
_DATE = datetime.datetime(2000, 1, 1)


def lay_out_picture(
    plan: Plan, templates: Templates, knots: KnotLibrary | None = None, store: Store = NO_STORE
) -> Book:
    """A book of one page, as large as the picture with a border.

    The first chart is shown with what is fastened to it; where there is none, the first part.
    `knots`: None, the package's own.
    """
    look = house_look(templates, "a4")
    figure = _draw(plan, look, (knots or load_knots()).__getitem__, store)
    width, height = figure.width_mm + 2 * _BORDER_MM, figure.height_mm + 2 * _BORDER_MM
    size = f"{number(width)} {number(height)}"
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {size}">'
        f'<path data-tag="Artifact" d="M0 0H{number(width)}V{number(height)}H0Z"'
        f' fill="{look.colours["paper"]}"/>'
        f'<g data-tag="Artifact" transform="translate({_BORDER_MM} {_BORDER_MM})">'
        f"{figure.svg}</g></svg>"
    )
    return Book(
        pages=(Page(svg, width, height, "1"),),
        bookmarks=(),
        title="",
        author="",
        subject="",
        keywords=(),
        language="en",
        date=_DATE,
    )


def _draw(plan: Plan, look: Look, knots: Callable[[str], Knot], store: Store) -> Figure:
    size = (_PICTURE_MM, _PICTURE_MM)
    if plan.charts:
        chart = plan.charts[0]
        placed = place_parts(plan, chart.id, knots)
        return draw_hanging(chart, plan.colours, look, *size, placed, store=store)
    if plan.parts:
        return draw_part(plan.parts[0], plan.colours, knots, look, *size, store=store)
    return Figure("", *size)
