"""A swatch in centimetres, a ball in the wrong unit: what can't be right is told at its line."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from publisher.catalogue.advice import say_advice
from publisher.errors import SourceError
from publisher.manuscript.words import read_words
from publisher.model.pattern import Pattern
from publisher.plan import make_plan
from publisher.plan.plausible import LEAST, MOST, measurements
from publisher.source import read_pattern
from tests.support.shop import ROOT, SLUGS, demo, installed

TIDE = (ROOT / "patterns/tide-lines.toml").read_text("utf-8")
HOUSE = (ROOT / "patterns/house.toml").read_text("utf-8")


def written(folder: Path, gauge: str = "", house: str = HOUSE) -> Pattern:
    """The tide lines with a swatch, in its last line."""
    more = f"gauge = {gauge}\n" if gauge else ""
    (folder / "house.toml").write_text(house, "utf-8")
    (folder / "tide-lines.toml").write_text(TIDE + more, "utf-8")
    return read_pattern(folder / "tide-lines.toml")


def refused(pattern: Pattern) -> str:
    with pytest.raises(SourceError) as caught:
        make_plan(pattern)
    (problem,) = caught.value.problems
    place = f"{Path(problem.place.file).name}:{problem.place.line}"
    return f"{place}: {problem.message}; {problem.hint}"


def advised(pattern: Pattern) -> list[str]:
    words = read_words(installed())
    found = [one for one in make_plan(pattern).advice if "key_path" in one.values]
    return [say_advice(one, pattern, words).rpartition("/")[2] for one in found]


LAST = len(TIDE.splitlines()) + 1


@pytest.mark.parametrize(
    ("gauge", "told"),
    [
        (
            "{ columns = 24, width_mm = 22 }",
            "`width_mm` can't be 22 mm: a swatch of 24 columns comes to about 400 mm; "
            "was width_mm = 220 meant?",
        ),
        (
            "{ rows = 10, height_mm = 4.5 }",
            "`height_mm` can't be 4.5 mm: a swatch of 10 rows comes to about 120 mm; "
            "was height_mm = 114.3 meant?",
        ),
        (
            "{ yarn_mm_per_knot = 9.3 }",
            "`yarn_mm_per_knot` can't be 9.3 mm: the yarn of one knot comes to about 93 mm; "
            "was yarn_mm_per_knot = 93 meant?",
        ),
        (
            "{ columns = 1, width_mm = 400 }",
            "`width_mm` can't be 400 mm: a swatch of 1 column comes to about 17 mm; "
            "was width_mm = 40 meant?",
        ),
    ],
)
def test_a_swatch_in_another_unit_is_refused(tmp_path: Path, gauge: str, told: str) -> None:
    assert refused(written(tmp_path, gauge)) == f"tide-lines.toml:{LAST}: {told}"


def test_an_unusual_swatch_is_advised_on(tmp_path: Path) -> None:
    assert advised(written(tmp_path, "{ columns = 24, width_mm = 950 }")) == [
        f"tide-lines.toml:{LAST}: advice: width_mm = 950 is unusual: a swatch of 24 columns comes "
        "to about 400 mm; measure it again to be sure"
    ]


def test_a_usual_swatch_is_not_spoken_of(tmp_path: Path) -> None:
    """That of a soft cotton, a fifth smaller than a hard cord."""
    usual = "{ columns = 10, width_mm = 135, rows = 10, height_mm = 95, yarn_mm_per_knot = 74 }"
    assert advised(written(tmp_path, usual)) == []


def test_a_ball_that_can_not_weigh_so_little_is_refused_where_the_house_says_so(
    tmp_path: Path,
) -> None:
    house = HOUSE.replace("price = 8.90", "price = 8.90\nball_grams = 50")
    line = house.splitlines().index("ball_grams = 50") + 1
    assert refused(written(tmp_path, house=house)) == (
        f"house.toml:{line}: `ball_grams` can't be 50 g: a ball of 80 m at 7.5 g a metre comes to "
        "about 600 g; was ball_grams = 500 meant?"
    )


def test_a_share_in_the_place_of_a_percentage_is_advised_on(tmp_path: Path) -> None:
    house = HOUSE.replace("allowance_percent = 10", "allowance_percent = 0.12")
    assert advised(written(tmp_path, house=house)) == [
        "house.toml:6: advice: allowance_percent = 0.12 is less than one in a hundred: "
        "was 12 meant?"
    ]


@pytest.mark.parametrize("slug", SLUGS)
def test_the_demo_patterns_are_usual(slug: str) -> None:
    assert all(one.is_usual for one in measurements(demo(slug)))
    assert not [one for one in make_plan(demo(slug)).advice if "key_path" in one.values]


@given(st.floats(0.01, 100.0))
def test_what_is_refused_is_a_third_or_three_times_as_much(times: float) -> None:
    from dataclasses import replace

    pattern = demo("tide-lines")
    piece = pattern.pieces[0]
    gauge = replace(piece.gauge, columns=10, width_mm=10 * 16.6 * times)  # type: ignore[union-attr]
    changed = replace(pattern, pieces=(replace(piece, gauge=gauge),))  # type: ignore[call-arg]
    (width,) = measurements(changed)
    assert width.is_possible == (LEAST <= width.value / width.expected <= MOST)
    if not width.is_possible:
        with pytest.raises(SourceError, match="width_mm"):
            make_plan(changed)
    else:
        assert make_plan(changed)
