"""A fringe is told as it hangs: in the list, in the steps, and over its template."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from publisher.layout import lay_out_text
from publisher.manuscript.blocks import Heading
from publisher.model.pattern import Fringe, FringeShape, UnitOrder
from publisher.plan import make_plan
from tests.support.shop import demo, manuscript, small


@pytest.mark.parametrize(
    ("order", "told"), [("metric-first", "lengths in cm;"), ("inch-first", "lengths in inches;")]
)
def test_the_unit_of_the_lengths_is_named_so_that_it_can_be_read(
    order: UnitOrder, told: str
) -> None:
    book = manuscript(replace(demo("lantern-window"), units=order))
    (lead,) = (
        block.lead_in
        for section in book.sections
        for block in section.body
        if isinstance(block, Heading) and block.text == "Fringe template"
    )
    assert lead.startswith(f"1 : 3, {told}")


@pytest.mark.parametrize("columns", [7, 8])
@pytest.mark.parametrize("shape", ["straight", "point", "arch"])
def test_what_is_told_of_edges_and_middle_is_what_hangs_there(
    shape: FringeShape, columns: int
) -> None:
    fringe = Fringe(shape, 200.0, 200.0 if shape == "straight" else 90.0)
    pattern = small(("C" * columns,))
    pattern = replace(pattern, pieces=(replace(pattern.charts[0], fringe=fringe),))
    hangs_mm = make_plan(pattern).charts[0].fringe_mm
    edges, middle = (f"{round(hangs_mm[at] / 5) / 2:g} cm" for at in (0, columns // 2))
    text = " ".join(lay_out_text(manuscript(pattern, "plain-text")).split())
    listed = {
        "straight": rf"{edges} \([^)]*\), straight",
        "point": rf"{edges} \([^)]*\) at the edges, {middle} \([^)]*\) in the middle",
    }
    steps = {
        "straight": f"lay a ruler {edges} below the last row",
        "point": f"Mark {edges} below the last row at both edges and {middle} in the middle",
    }
    for told in (listed, steps):
        told["arch"] = told["point"]
        assert len(re.findall(told[shape], text)) == 1, told[shape]
