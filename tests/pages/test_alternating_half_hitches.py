"""A knot that is one file and its words: planned, drawn, told and printed like any other."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
from pytest import approx

from publisher import publish
from publisher.knots import load_knots
from publisher.plan import make_plan
from publisher.source import read_pattern
from tests.support.own_knots import write_pattern

KNOT = "alternating-half-hitches"
STEPS = f"""{{ tie = "{KNOT}", on = [2, 3], times = 8 }},
    {{ tie = "{KNOT}", on = [1, 2], facing = "right" }},
    {{ trim_mm = 30 }},"""


def test_each_cord_takes_about_three_times_the_chain(tmp_path: Path) -> None:
    """Common practice: cords for a chain of half hitches are cut some three times as long as it
    comes out, each of them, as both work."""
    found = load_knots()[KNOT].taken([1.0, 1.0])
    assert all(2.5 < cord / found.height_mm < 3.5 for cord in found.cords_mm)
    assert found.cords_mm[0] == approx(found.cords_mm[1], rel=0.02), "both work alike"
    plan = make_plan(read_pattern(write_pattern(tmp_path, STEPS))).parts[0]
    assert plan.knots[KNOT] == 9
    assert [(leg.cord, leg.side) for leg in plan.steps[0].after] == [
        (leg.cord, leg.side) for leg in plan.order
    ], "every cord hangs where it hung"


def test_its_pages_say_how_it_is_tied(tmp_path: Path) -> None:
    document = pypdfium2.PdfDocument(publish(read_pattern(write_pattern(tmp_path, STEPS))))
    text = " ".join(page.get_textpage().get_text_range() for page in document)
    text = " ".join(text.replace("\xad", "").split())
    assert "Tie a pair of alternating half hitches (page " in text
    assert "with cords 2 and 3, 8 times in all, one below the other." in text
    assert "Begin from the right: the drawing on that page, in a mirror." in text
    for stage in load_knots()[KNOT].stages:
        assert stage.alt in text
    assert "9 × pair of alternating half hitches" in text
