"""A colour that nothing is worked in is told to the writer, and to nobody else."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from publisher import read_pattern
from publisher.catalogue.advice import say_advice
from publisher.errata.compare.content import content_of
from publisher.knots import load_knots
from publisher.layout import lay_out_bench, lay_out_text
from publisher.manuscript import write_entry
from publisher.manuscript.words import read_words
from publisher.model.colour import Colour
from publisher.model.pattern import Pattern, Yarn, YarnColour
from publisher.plan import make_plan
from publisher.press import print_book
from tests.support.shop import book, demo, installed, manuscript

WOOL = Yarn("wool-9", "Mill Lane rug wool", 9.0, 30.0, ball_metres=20.0, fibre="wool")
UNUSED = YarnColour("Z", "zander green", Colour.from_hex("#7a8b4f"), WOOL)


def both(slug: str) -> tuple[Pattern, Pattern]:
    """A demo pattern, and the same with a colour of a yarn of its own that no piece asks for."""
    pattern = demo(slug)
    return pattern, replace(pattern, colours=(UNUSED, *pattern.colours))


@pytest.mark.parametrize("edition", ["booklet", "handout", "large-print"])
@pytest.mark.parametrize("slug", ["tide-lines", "lock-keepers-key-cord"])
def test_every_page_is_as_without_it(slug: str, edition: str) -> None:
    """Cover, key, lists, blocking by fibres, signs of colours: all to the byte."""
    plain, more = (print_book(book(pattern, edition)) for pattern in both(slug))
    assert more == plain


def test_texts_and_the_index_are_as_without_it() -> None:
    plain, more = both("kingfisher-over-reeds")
    text = [lay_out_text(manuscript(one, "plain-text")) for one in (plain, more)]
    assert text[0] == text[1]
    bench = [lay_out_bench(manuscript(one, "at-the-bench"), installed()) for one in (plain, more)]
    assert bench[0] == bench[1]
    knots = load_knots()
    entries = [write_entry(one, make_plan(one), knots, installed()) for one in (plain, more)]
    assert entries[0] == entries[1]
    contents = [content_of(one, make_plan(one), "") for one in (plain, more)]
    assert contents[0] == contents[1], "what a release is known by"


def test_check_tells_its_line(tmp_path: Path) -> None:
    text = """format = 1
title = "Weir"
version = "1.0"

[colours.N]
name = "night navy"
srgb = "#1b2136"
yarn = "cotton"

[colours.Z]
name = "zander green"
srgb = "#7a8b4f"
yarn = "cotton"

[yarns.cotton]
name = "soft cotton"
diameter_mm = 3.0
grams_per_metre = 4.5

[[pieces]]
id = "panel"
kind = "chart"
chart = '''
NNN
NNN
'''
cords = { colour = "N", strands = 2 }
"""
    path = tmp_path / "weir.toml"
    path.write_text(text, encoding="utf-8")
    pattern = read_pattern(path)
    (advice,) = (one for one in make_plan(pattern).advice if one.code == "unused-colour")
    said = say_advice(advice, pattern, read_words(installed()))
    assert said.startswith(f"{path}:11: advice: nothing is worked in zander green (Z)")
    path.write_text(text.replace('colour = "N"', 'colour = "Z"'), encoding="utf-8")
    codes = {one.code for one in make_plan(read_pattern(path)).advice}
    assert "unused-colour" not in codes, "cords are cut from it"
