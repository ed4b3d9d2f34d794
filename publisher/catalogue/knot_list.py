"""List the knots that a pattern can name."""

from __future__ import annotations

import json

from publisher.catalogue.build.pipeline import Pipeline
from publisher.catalogue.workshop import Workshop, read_own_knots


def list_knots(workshop: Workshop, as_json: bool) -> str:
    """A line a knot, the writer's own among them; or the library's geometry as JSON."""
    if as_json:
        from publisher.knots import knots_as_json

        return json.dumps(knots_as_json()) + "\n"
    knots = Pipeline().load_knots(read_own_knots(workshop.patterns))
    width = max(map(len, knots))
    return "".join(f"{name:{width}}  {', '.join(knot.titles)}\n" for name, knot in knots.items())
