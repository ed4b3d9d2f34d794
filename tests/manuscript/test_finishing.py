"""What is to be done at the back is told as far as the piece has it, and no further."""

from __future__ import annotations

from dataclasses import replace

import pytest

from publisher.manuscript.blocks import Paragraph
from publisher.manuscript.markup import plain
from publisher.plan import make_plan
from tests.support.grids import pattern_of
from tests.support.shop import manuscript


@pytest.mark.parametrize(("cells", "squares"), [(("AB", "AB"), False), (("A" * 9,), True)])
def test_squares_are_spoken_of_just_where_the_map_has_some(
    cells: tuple[str, ...], squares: bool
) -> None:
    """Ends of four narrow cells are all tied; those of one yarn over nine are too far apart."""
    pattern = replace(pattern_of(*cells), terms="personal-use")
    assert bool(make_plan(pattern).charts[0].single_ends) is squares
    (section,) = (one for one in manuscript(pattern).sections if one.name == "finishing")
    (lead,) = (plain(one.text) for one in section.lead if isinstance(one, Paragraph))
    assert "cord 1 is now on the right" in lead
    assert ("square" in lead) is squares
