"""Cautions: printed before the step and on one page, and worded with care."""

from __future__ import annotations

import dataclasses
import re
import tomllib
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

from publisher.layout.plain_text import lay_out_text
from publisher.manuscript.blocks import Caution, Heading, Manuscript
from publisher.manuscript.markup import plain
from publisher.model.parts import AssemblyStep, Glue
from tests.support.parts import LEAF_CORDS, LEAF_STEPS, part, pattern_of
from tests.support.shop import ROOT, SLUGS, demo, demo_plan, installed, manuscript

FORBIDDEN = re.compile(
    r"\b(safe|safely|safest|child-?safe|childproof|complies|comply|compliant|tested|certified"
    r"|fire-?proof|non-?toxic)\b",
    re.IGNORECASE,
)
CODES = (
    "hot-glue",
    "hot-iron",
    "small-parts",
    "free-cords",
    "working-cords",
    "weight",
    "flames",
    "cutting-tools",
    "hands",
    "selling",
)


@cache
def written(slug: str, edition: str = "booklet") -> Manuscript:
    return manuscript(demo(slug), edition)


def caution_text(code: str) -> str:
    return installed().text(f"cautions/{code}.txt").replace("\xa0", " ")


def words_of(table: object) -> Iterator[str]:
    if isinstance(table, dict):
        for value in table.values():
            yield from words_of(value)
    elif isinstance(table, str):
        yield table


def test_every_caution_that_a_plan_can_set_off_has_its_text() -> None:
    assert {*installed().names("cautions")} == {*CODES}


@pytest.mark.parametrize("code", CODES)
def test_no_caution_promises_what_nobody_can(code: str) -> None:
    assert not FORBIDDEN.search(caution_text(code))


def test_no_word_that_the_program_supplies_promises_it() -> None:
    table = tomllib.loads(installed().text("words/en.toml"))
    assert not [words for words in words_of(table) if FORBIDDEN.search(words)]


def test_no_number_is_parted_from_its_unit() -> None:
    (section,) = (one for one in written("tide-lines").sections if one.name == "cautions")
    told = " ".join(plain(item) for one in section.body for item in getattr(one, "items", ()))
    assert "30\xa0cm (12\xa0in)" in told and "1\xa0m (3\xa0ft)" in told and "20\xa0minutes" in told


@pytest.mark.parametrize(
    "path",
    [
        *(ROOT / "publisher/knots/library").glob("*.toml"),
        *(ROOT / "templates").glob("terms/*"),
        *(ROOT / "templates").glob("pages/*"),
        *(ROOT / "templates").glob("editions/*"),
    ],
    ids=lambda path: path.name,
)
def test_no_text_that_comes_with_the_program_promises_it(path: Path) -> None:
    words = re.sub(r"\{[{%].*?[}%]\}", "", path.read_text("utf-8"))  # a template's own filters
    assert not FORBIDDEN.search(words)


@pytest.mark.parametrize("slug", (*SLUGS, "lock-keepers-key-cord"))
def test_no_demo_booklet_promises_it(slug: str) -> None:
    text = lay_out_text(written(slug, "plain-text"))
    assert not FORBIDDEN.search(text)


@pytest.mark.parametrize(
    ("code", "says"),
    [
        ("hot-glue", ["burn", "120 to 210 °C", "maker's instructions", "no ice", "doctor"]),
        ("hot-glue", ["under cool running water for 20 minutes"]),
        ("hot-iron", ["burn", "steam", "children", "makers", "doctor"]),
        ("hot-iron", ["under cool running water for 20 minutes"]),
        ("small-parts", ["choke", "under 3", "not a toy", "local rules differ"]),
        ("free-cords", ["strangling", "never over or within reach of a cot", "not a toy"]),
        ("working-cords", ["strangle", "out of the room", "out of their reach whenever you stop"]),
        ("flames", ["burns", "30 cm (12 in) from candles", "makers' instructions and local rules"]),
        ("flames", ["1 m (3 ft) from heaters, stoves and open fires"]),
        ("weight", ["rated well above", "maker's instructions", "pipes and cables"]),
        ("hands", ["break", "doctor"]),
        ("cutting-tools", ["children"]),
        ("selling", ["Rules for things that are sold differ"]),
    ],
)
def test_each_says_hazard_limit_and_to_whom_it_defers(code: str, says: list[str]) -> None:
    text = caution_text(code)
    assert [words for words in says if words not in text] == []


def boxes(book: Manuscript, section: str) -> list[str]:
    found = [
        plain(item)
        for one in book.sections
        if one.name.startswith(section)
        for block in one.body
        if isinstance(block, Caution)
        for item in block.items
    ]
    return [words.split(".")[0] for words in found]


def test_all_of_them_are_gathered_on_one_page_and_again_before_their_step() -> None:
    book = written("kingfisher-over-reeds")
    plan = demo_plan("kingfisher-over-reeds")
    assert len(boxes(book, "cautions")) == len(plan.cautions) == 9
    assert boxes(book, "assembly") == ["Small parts", "Scissors and needle"]
    assert boxes(book, "finishing") == ["Cords", "Weight"]
    order = [section.name for section in book.sections]
    assert order.index("cautions") < order.index("chart") < order.index("assembly")


def test_glue_is_warned_of_before_the_steps_that_glue() -> None:
    glued = part(LEAF_CORDS, (*LEAF_STEPS, Glue(what="the tip")))
    (section,) = (one for one in manuscript(pattern_of(glued)).sections if one.name == "parts")
    kinds = [type(block) for block in section.body]
    heads = [block.text for block in section.body if isinstance(block, Heading)]
    assert kinds.index(Caution) < len(kinds) - 1 and heads[-1] == "Step by step"
    assert boxes(manuscript(pattern_of(glued)), "parts") == ["Hot glue"]
    assert boxes(manuscript(pattern_of(part())), "parts") == []


def test_gluing_parts_together_is_warned_of_before_assembly() -> None:
    glue = AssemblyStep("glue", "reed-leaf", 3, None, 0.0, "tails", "Three first.")
    pattern = dataclasses.replace(pattern_of(part()), assembly=(glue,))
    assert "Hot glue" in boxes(manuscript(pattern), "assembly")


def test_the_cords_that_lie_about_are_told_by_the_longest_that_is_cut() -> None:
    (section,) = (one for one in written("tide-lines").sections if one.name == "cautions")
    (box,) = (block for block in section.body if isinstance(block, Caution))
    (told,) = (words for words in map(plain, box.items) if words.startswith("Cords while you work"))
    longest = max(line.length_mm for line in demo_plan("tide-lines").cutting_list)
    assert longest == 3000 and "up to 300 cm (118¼ in) long" in told.replace("\xa0", " ")


def test_large_print_parts_the_page_into_boxes_that_fit() -> None:
    book = written("kingfisher-over-reeds", "large-print")
    (section,) = (one for one in book.sections if one.name == "cautions")
    boxed = [len(block.items) for block in section.body if isinstance(block, Caution)]
    assert boxed == [2, 2, 1, 2, 2]


def test_the_texts_are_where_the_shop_can_change_them() -> None:
    assert sorted(path.stem for path in (ROOT / "templates/cautions").iterdir()) == sorted(CODES)
