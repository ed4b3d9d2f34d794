"""Cover, weights and cautions speak of the right piece, and of all: read from the printed words."""

from __future__ import annotations

import re
from dataclasses import replace
from functools import cache

import pytest

from publisher.model.pattern import Fringe, Pattern
from publisher.plan import make_plan
from publisher.press import print_book
from tests.support.printed_lists import page_texts
from tests.support.shop import SLUGS, book, demo, demo_pdf

GRAMS_PER_POUND = 453.59237  # NIST SP 811, appendix B
GRAMS_PER_OUNCE = 28.349523125


def said(pdf: bytes) -> list[str]:
    return [" ".join(text.split()) for text in page_texts(pdf)]


@cache
def printed(pattern: Pattern) -> tuple[str, str]:
    """The cover's words, and those of all pages."""
    pages = said(print_book(book(pattern)))
    return pages[0], " ".join(pages)


def thrice() -> Pattern:
    pattern = demo("tide-lines")
    return replace(pattern, pieces=(replace(pattern.charts[0], make=3),))


def two() -> Pattern:
    """A large panel and a small one without a fringe; more cords, so that both are told apart."""
    pattern = demo("boats-at-the-weir")
    large = pattern.charts[0]
    cells = tuple(row[:30] for row in large.cells[:20])
    small = replace(
        large, id="side-panel", cells=cells, fringe=Fringe("straight", 0.0, 0.0), make=2
    )
    return replace(pattern, pieces=(large, small))


def grams(text: str) -> list[tuple[float, float]]:
    """Every weight that is printed, in grams: by its metric and by its other unit."""
    found = re.findall(r"about ([\d,.]+) (kg|g) \(([\d,.]+) (lb|oz)\)", text)
    size = {"kg": 1000.0, "g": 1.0, "lb": GRAMS_PER_POUND, "oz": GRAMS_PER_OUNCE}
    return [(float(a) * size[unit], float(b) * size[other]) for a, unit, b, other in found]


@pytest.mark.parametrize("slug", SLUGS)
def test_kilograms_and_pounds_are_one_weight(slug: str) -> None:
    weights = grams(" ".join(said(demo_pdf(slug))))
    assert weights
    for metric, imperial in weights:
        assert metric == pytest.approx(imperial, rel=0.06)


def test_one_of_several_alike_weighs_what_it_weighs() -> None:
    cover, text = printed(thrice())
    plan = make_plan(thrice())
    each, everything = plan.masses_g["panel"], plan.finished_mass_g
    assert everything == pytest.approx(3 * each)
    assert re.search(rf"about {each:.0f} g \(\S+ oz\) each, finished", text)
    assert re.search(rf"about {everything / 1000:.1f} kg \(\S+ lb\), all together", text)
    assert "each of the 3" in cover
    assert f"{3 * plan.charts[0].total_knots:,}, one kind" in cover


def test_the_weight_caution_tells_each_piece_on_its_own_dowel() -> None:
    cover, text = printed(two())
    plan = make_plan(two())
    large, small = plan.charts
    for chart, name in ((large, "The finished panel"), (small, "Each finished side panel")):
        mass = plan.masses_g[chart.id]
        weight = f"{mass / 1000:.1f} kg" if mass >= 1000 else f"{mass:.0f} g"
        dowel = f"{chart.dowel_length_mm / 10:g} cm"
        assert re.search(
            rf"{name}(?: \(2 of them\))? weighs about {weight} \([^)]*\), on a dowel {dowel} ", text
        )
    assert f"All together they weigh about {plan.finished_mass_g / 1000:.1f} kg" in text
    assert "Panel: " in cover and "Side panel: " in cover and "each of the 2" in cover
    assert "on 120 and 30 cords" in cover
    for heading in ("Tools and fittings", "The finished piece"):
        assert f"{heading}: panel" in text and f"{heading}: side panel" in text


@pytest.mark.parametrize("slug", SLUGS)
def test_the_finished_size_says_what_is_in_it_and_what_is_not(slug: str) -> None:
    cover = said(demo_pdf(slug))[0]
    chart = demo(slug).charts[0]
    assert max(chart.fringe.longest_mm, chart.fringe.shortest_mm) > 0
    assert "fringe included" in cover and "Size without dowel" in cover


def test_without_a_fringe_none_is_in_the_size() -> None:
    pattern = demo("tide-lines")
    bare = replace(pattern.charts[0], fringe=Fringe("straight", 0.0, 0.0))
    cover, _ = printed(replace(pattern, pieces=(bare,)))
    assert "fringe" not in cover and "Size without dowel" in cover
    height = make_plan(replace(pattern, pieces=(bare,))).charts[0].height_mm
    assert f"× {round(height / 5) / 2:g} cm" in cover


def test_knots_of_the_parts_are_counted_beside_those_of_the_picture() -> None:
    cover = said(demo_pdf("kingfisher-over-reeds"))[0]
    plan = make_plan(demo("kingfisher-over-reeds"))
    in_parts = sum(part.total_knots * part.make for part in plan.parts)
    kinds = 1 + len({name for part in plan.parts for name in part.knots})
    assert f"{plan.charts[0].total_knots + in_parts:,}, {kinds} kinds" in cover


def test_a_heavy_part_that_hangs_alone_is_told_without_a_dowel() -> None:
    pattern = demo("lock-keepers-key-cord")
    heavy = tuple(
        replace(colour, yarn=replace(colour.yarn, grams_per_metre=2000.0))
        for colour in pattern.colours
    )
    _, text = printed(replace(pattern, colours=heavy))
    assert "Weight. The finished piece weighs about" in text or "finished pieces weighs" in text
    assert not re.search(r"weighs about [^.]*on a dowel", text)
