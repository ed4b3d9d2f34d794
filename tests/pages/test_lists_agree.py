"""What is cut and what is bought agree, to a quarter of an inch: read from the pages' words."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from datetime import datetime
from fractions import Fraction
from functools import cache
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from publisher.knots import load_knots
from publisher.layout import lay_out
from publisher.manuscript import write_manuscript
from publisher.model.parts import PartCord
from publisher.model.pattern import Cords, Fringe, Gauge, Pattern, YarnColour
from publisher.plan import make_plan
from publisher.press import print_book
from publisher.templates import Templates
from tests.support.grids import COTTON, charts, pattern_of
from tests.support.parts import part
from tests.support.printed_lists import Bought, bought, cutting_rows, page_texts
from tests.support.shop import SLUGS, book, demo, demo_pdf, with_files

PAPERS = ("a4", "letter")
UNITS = ("metric-first", "inch-first")
GRAMS_PER_OUNCE = Fraction("28.349523125")  # NIST SP 811, appendix B


@cache
def lists_alone() -> Templates:
    """The installed templates, and an edition that has nothing but the lists."""
    return with_files({"editions/lists.toml": 'title = "Lists"\nsections = ["materials"]\n'})


def print_lists(pattern: Pattern, paper: str) -> list[str]:
    plan = make_plan(pattern)
    date = datetime(2026, 9, 1)
    told = write_manuscript(pattern, plan, load_knots(), lists_alone(), "lists", paper, date=date)
    return page_texts(print_book(lay_out(told, lists_alone())))


def check_lists(texts: list[str], pattern: Pattern) -> None:
    """Every row's In all is the sum of its lengths, rounded up once; what is bought is enough for
    all rows of its colour, in both systems, and less than one unit more."""
    rows, together = cutting_rows(texts, pattern)
    metric = pattern.units == "metric-first"
    unit, more = ("cm", 100) if metric else ("in", 36)
    for row in rows:
        hundredths = math.ceil(row.total(unit) * 100 / more)
        assert row.in_all == Fraction(hundredths, 100), row
    assert together == sum(row.in_all for row in rows)
    lines, sums = bought(texts, pattern)
    assert sorted(line.letter for line in lines) == sorted({row.letter for row in rows})
    for name, amount in sums.amounts.items():
        assert amount == sum(line.amounts[name] for line in lines), name
    for line in lines:
        of_it = [row for row in rows if row.letter == line.letter]
        in_all = sum(row.in_all for row in of_it)
        first = line.amounts["m" if metric else "yd"]
        assert in_all <= first < in_all + 1, line
        metres = sum(row.total("cm") for row in of_it) / 100
        yards = sum(row.total("in") for row in of_it) / 36
        assert metres <= line.amounts["m"] < metres + 1, line
        assert yards <= line.amounts["yd"] < yards + Fraction(len(of_it), 100) + 1, line
        check_weight(line, pattern, metres)


def check_weight(line: Bought, pattern: Pattern, metres: Fraction) -> None:
    """Grams, ounces and balls for so many metres, each rounded up once."""
    yarn = pattern.colour(line.letter).yarn
    grams = metres * Fraction(str(yarn.grams_per_metre))
    assert line.amounts["g"] == math.ceil(grams)
    assert line.amounts["oz"] == Fraction(math.ceil(grams / GRAMS_PER_OUNCE * 10), 10)
    if yarn.ball_metres:
        assert line.amounts["Balls"] == math.ceil(metres / Fraction(str(yarn.ball_metres)))


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("slug", [*SLUGS, "lock-keepers-key-cord"])
def test_the_lists_of_every_demo_agree(slug: str, units: Any, paper: str) -> None:
    pattern = replace(demo(slug), units=units)
    check_lists(print_lists(pattern, paper), pattern)


@pytest.mark.parametrize("slug", SLUGS)
def test_the_lists_of_a_booklet_are_these(slug: str) -> None:
    check_lists(page_texts(demo_pdf(slug)), demo(slug))


FRINGES = st.builds(
    lambda shape, shortest, drop: Fringe(
        shape, shortest + (drop if shape != "straight" else 0.0), shortest
    ),
    st.sampled_from(["straight", "point", "arch"]),
    st.floats(0, 200),
    st.floats(0, 150),
)
PIECES = st.fixed_dictionaries(
    {
        "make": st.integers(1, 3),
        "fringe": FRINGES,
        "allowance_percent": st.sampled_from([0.0, 10.0, 12.5]),
        "tail_mm": st.floats(40, 120),
        "working_length_mm": st.sampled_from([800.0, 1234.0, 3000.0]),
        "gauge": st.sampled_from([Gauge(), Gauge(20, 150.0, 20, 130.0, 57.3)]),
    }
)


@st.composite
def patterns(draw: st.DrawFn) -> Pattern:
    """One or two charts, with a part or without, in three colours of two yarns."""
    first = pattern_of(*draw(charts(4, 6, "AB")), **draw(PIECES))
    second = pattern_of(*draw(charts(4, 6, "AB")), **draw(PIECES), id="border")
    thick = replace(
        COTTON,
        key="cotton-4",
        name="4 mm cotton",
        diameter_mm=4.2,
        ball_metres=draw(st.sampled_from([3.0, 60.0])),
    )
    yarns = {"A": COTTON, "B": replace(COTTON, ball_metres=7.5), "C": thick}
    base = first.colours[0]
    colours = tuple(
        YarnColour(letter, f"shade {letter}", base.srgb, yarn) for letter, yarn in yarns.items()
    )
    cords = Cords("C", draw(st.sampled_from([1, 2])))
    pieces: list[Any] = [replace(first.pieces[0], cords=cords)]
    if draw(st.booleans()):
        pieces.append(second.pieces[0])
    if draw(st.booleans()):
        leaf = (PartCord("A", "across"), *(PartCord(c, "folded", 1, "larks-head") for c in "CCAC"))
        pieces.append(part(leaf, make=draw(st.integers(1, 4))))
    letters = {
        letter for piece in pieces[:2] for row in getattr(piece, "cells", ()) for letter in row
    }
    used = tuple(
        colour for colour in colours if colour.letter in letters | {"C"} or len(pieces) > 1
    )
    units = draw(st.sampled_from(UNITS))
    return replace(first, colours=used, pieces=tuple(pieces), units=units)


@settings(deadline=None, max_examples=25, suppress_health_check=[HealthCheck.too_slow])
@given(patterns(), st.sampled_from(PAPERS))
def test_the_lists_of_any_pattern_agree(pattern: Pattern, paper: str) -> None:
    check_lists(print_lists(pattern, paper), pattern)


@pytest.mark.parametrize("edition", ["booklet", "handout", "large-print"])
@pytest.mark.parametrize("slug", SLUGS)
def test_cords_planned_without_a_swatch_say_for_which_rows(slug: str, edition: str) -> None:
    """By the models of the knots rows are 2.6 to 3.4 diameters high, 3.0 in hard cord."""
    pattern = demo(slug)
    (piece, *_) = pattern.pieces
    text = " ".join("\n".join(page_texts(demo_pdf(slug, edition))).split())
    said = re.search(
        r"ten rows ([\d.]+) cm \(\S+ in\) high, from yarn to yarn "
        r"([\d.]+) cm \(\S+ in\) to ([\d.]+) cm",
        text,
    )
    if piece.gauge.rows:
        assert said is None, "a swatch tells"
        return
    thickest = max(colour.yarn.diameter_mm for colour in pattern.colours)
    wanted = [round(times * thickest * 2) / 2 for times in (3.0, 2.6, 3.4)]
    assert said and [float(one) for one in said.groups()] == wanted


@pytest.mark.parametrize(
    ("students", "spare", "units"),
    [
        (12, 10, "metric-first"),
        (1, 10, "inch-first"),
        (7, 0, "metric-first"),
        (30, 25, "metric-first"),
    ],
)
@pytest.mark.parametrize("slug", ["tide-lines", "kingfisher-over-reeds"])
def test_a_class_buys_what_its_kits_cut_and_the_spare_that_is_told(
    slug: str, students: int, spare: int, units: Any
) -> None:
    """By the words of the handout: as many kits as there are students, and so much more."""
    pattern = replace(demo(slug), units=units)
    kit = f'title = "Kit"\nsections = ["kit"]\nstudents = {students}\nspare_percent = {spare}\n'
    templates = with_files({"editions/kit.toml": kit})
    texts = page_texts(print_book(book(pattern, "kit", "a4", templates)))
    said = " ".join("\n".join(texts).split())
    more = f"all that is cut for the kits and {spare} % more," if spare else "for the kits, each"
    assert more in said
    rows, _ = cutting_rows(texts, pattern)
    whose = "one student" if students == 1 else f"{students} students"
    lines, sums = bought(texts, pattern, f"To buy for {whose}")
    unit = "m" if units == "metric-first" else "yd"
    for line in lines:
        in_all = sum(row.in_all for row in rows if row.letter == line.letter)
        assert line.amounts[unit] == math.ceil(students * in_all * (100 + spare) / 100), line
    for name, amount in sums.amounts.items():
        assert amount == sum(line.amounts[name] for line in lines), name


@pytest.mark.parametrize("percent", [0.0, 7.0, 15.0])
def test_what_is_to_spare_is_told_as_it_is(percent: float) -> None:
    """And it is in the lengths: without it the loop and every other length is shorter or equal."""
    pattern = demo("tide-lines")
    piece = replace(pattern.charts[0], allowance_percent=percent)
    texts = print_lists(replace(pattern, pieces=(piece,)), "a4")
    said = " ".join("\n".join(texts).split())
    assert f"Every length has {percent:g} % to spare in it." in said


def test_lengths_stand_under_the_piece_that_they_are_for() -> None:
    """The kingfisher has a panel and two parts; each is named over its own lengths."""
    pattern = demo("kingfisher-over-reeds")
    rows, _ = cutting_rows(page_texts(demo_pdf(pattern.slug)), pattern)
    assert len({row.piece for row in rows}) == 3
    for row in rows:
        planned = {
            (line.count, Fraction(str(line.length_mm / 10)))
            for line in make_plan(pattern).cutting_list
            if line.piece.replace("-", " ") == row.piece
            and line.colour == row.letter
            and (line.purpose == "hanging loop") == (row.purpose == "Cord to hang it by")
            and (line.purpose == "cords") == (row.purpose == "Hanging cords, folded in half")
        }
        lengths = [length for count, length in row.lengths["cm"] for _ in range(count)]
        assert {(lengths.count(length), length) for length in lengths} == planned, row
