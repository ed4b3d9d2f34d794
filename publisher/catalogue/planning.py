"""Tell a pattern's working plan, or the knots that it can name, to a person or a program."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import asdict

from publisher.catalogue.build.job import plan_json
from publisher.catalogue.build.pipeline import Pipeline
from publisher.catalogue.workshop import Workshop, read_own_knots, read_templates
from publisher.templates import KNOT_WORDS


def tell_plan(workshop: Workshop, name: str, as_json: bool) -> str:
    """The plan of a pattern as text. SourceError and TemplateError as their rooms raise them."""
    pipeline = Pipeline()
    pattern = pipeline.read_pattern(workshop.find([name])[0])
    plan = pipeline.make_plan(pattern)
    if as_json:
        return plan_json(pipeline, plan)
    from publisher.manuscript import plan_for_people

    return plan_for_people(plan, pattern, read_templates(workshop.templates))


def tell_limits(workshop: Workshop, name: str, columns: Sequence[int], as_json: bool) -> str:
    """Return what the plan would come to with each of these carry limits."""
    from publisher.plan import what_if

    found = what_if(Pipeline().read_pattern(workshop.find([name])[0]), columns)
    rows = [asdict(row) for row in found]
    if as_json:
        return json.dumps(rows) + "\n"
    return "".join(f"{line}\n" for line in _table(rows))


def _table(rows: Sequence[dict[str, object]]) -> list[str]:
    """Columns flush right, headed by their names."""
    heads = [name.replace("_", " ") for name in rows[0]]
    cells = [[_number(value) for value in row.values()] for row in rows]
    widths = [max(map(len, column)) for column in zip(heads, *cells, strict=True)]
    return [
        "  ".join(cell.rjust(width) for cell, width in zip(line, widths, strict=True))
        for line in (heads, *cells)
    ]


def _number(value: object) -> str:
    return f"{value:.0f}" if isinstance(value, float) else str(value)


def list_knots(workshop: Workshop, as_json: bool) -> str:
    """A line a knot, the writer's own among them; or the library's geometry as JSON."""
    if as_json:
        from publisher.knots import knots_as_json

        return json.dumps(knots_as_json()) + "\n"
    words = read_templates(workshop.templates).file(KNOT_WORDS)
    knots = Pipeline().load_knots(read_own_knots(workshop.patterns), words)
    width = max(map(len, knots))
    return "".join(f"{name:{width}}  {', '.join(knot.titles)}\n" for name, knot in knots.items())
