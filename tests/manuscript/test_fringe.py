"""The words over a fringe's template say how large it is, and what its numbers are."""

from __future__ import annotations

from dataclasses import replace

import pytest

from publisher.manuscript.blocks import Heading
from publisher.model.pattern import UnitOrder
from tests.support.shop import demo, manuscript


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
