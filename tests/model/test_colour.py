"""What colours keep in whatever way they are seen."""

from __future__ import annotations

from typing import get_args

from publisher.model.colour import Colour, Eye, difference


def test_a_grey_is_seen_alike_by_all() -> None:
    for level in range(0, 256, 15):
        grey = Colour(level, level, level)
        for eye in get_args(Eye):
            assert difference(grey.lab, grey.lab_seen_by(eye)) < 0.02
