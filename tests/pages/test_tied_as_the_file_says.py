"""A knot of the writer's own is drawn and told as its `[steps]` say."""

from __future__ import annotations

from pathlib import Path

import pypdfium2
import pytest

from publisher import publish
from publisher.source import read_pattern
from tests.plan.test_own_knots import LED, ROUND
from tests.support.own_knots import write_pattern

WORKED = LED.replace('"leader"', '"worker"').replace("horizontal", "vertical")


@pytest.mark.parametrize(
    ("knot", "step", "told"),
    [
        (ROUND, "on = [1, 2, 3, 4, 5], times = 3", "1 and 5 knot round 2, 3 and 4."),
        (
            ROUND,
            'on = [1, 2, 3], fillers = 1, facing = "right"',
            "1 and 3 knot round 2. Begin from",
        ),
        (
            LED,
            "leader = 1, on = [2, 3, 4]",
            "Lead with cord 1, to the right: tie a weir hitch (page",
        ),
        (WORKED, "worker = 4, on = [3, 2, 1]", "With cord 4, to the left: tie a weir hitch (page"),
    ],
)
def test_its_steps_are_drawn_and_told(tmp_path: Path, knot: str, step: str, told: str) -> None:
    cords = '[{ colour = "B", lay = "folded", count = 3 }]'
    path = write_pattern(tmp_path, f'{{ tie = "weir-knot", {step} }},', cords, weir_knot=knot)
    document = pypdfium2.PdfDocument(publish(read_pattern(path)))
    text = " ".join(page.get_textpage().get_text_range() for page in document)
    assert told in " ".join(text.split())
