"""A number with its unit is told as the number to write.

Factors: the international yard and pound of 1959 (NIST Special Publication 811, appendix B.8): an
inch is 25.4 mm, a foot 0.3048 m, a yard 0.9144 m, an ounce 28.349523125 g, a pound 453.59237 g.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from publisher.errors import SourceError
from publisher.source import read_pattern
from publisher.tables.words import in_unit_of
from tests.support.shop import ROOT


@pytest.mark.parametrize(
    ("key", "text", "number"),
    [
        ("tail_mm", "10cm", "100"),
        ("tail_mm", "100 mm", "100"),
        ("tail_mm", "0.5 m", "500"),
        ("tail_mm", "4 in", "101.6"),
        ("tail_mm", "4 in.  # as ever", "101.6"),
        ("tail_mm", '4½"', "114.3"),
        ("tail_mm", "4 1/2 inches", "114.3"),
        ("tail_mm", "1/2 in", "12.7"),
        ("working_length_mm", "10 ft", "3048"),
        ("working_length_mm", "3 yards", "2743.2"),
        ("ball_metres", "100 yd", "91.44"),
        ("ball_grams", "1.75oz", "49.61"),
        ("ball_grams", "1 lb", "453.59"),
        ("allowance_percent", "12 %", "12"),
        ("turn_degrees", "45°", "45"),
        ("seconds_per_knot", "2 min", "120"),
    ],
)
def test_a_number_is_told_in_the_unit_of_its_key(key: str, text: str, number: str) -> None:
    assert in_unit_of(key, text) == number


@pytest.mark.parametrize(
    ("key", "text"),
    [
        ("tail_mm", "100"),
        ("tail_mm", "10 kg"),
        ("tail_mm", "ten cm"),
        ("tail_mm", "10 0 cm"),
        ("tail_mm", "1/0 in"),
        ("make", "2 cm"),
        ("ball_grams", "50 m"),
    ],
)
def test_what_can_not_be_told_is_not_guessed(key: str, text: str) -> None:
    assert in_unit_of(key, text) is None


@pytest.mark.parametrize("written", ["4 in", '"4 in"', "'4 in'", "10.16cm", '"101.6 mm"'])
def test_whoever_writes_a_unit_is_told_what_to_write(tmp_path: Path, written: str) -> None:
    text = (ROOT / "patterns/tide-lines.toml").read_text("utf-8")
    path = tmp_path / "tide-lines.toml"
    path.write_text(text.replace("tail_mm = 100", f"tail_mm = {written}"), "utf-8")
    (tmp_path / "house.toml").write_text((ROOT / "patterns/house.toml").read_text("utf-8"), "utf-8")
    with pytest.raises(SourceError) as caught:
        read_pattern(path)
    (problem,) = caught.value.problems
    assert problem.hint == "write tail_mm = 101.6"
    assert problem.place.line == 71
