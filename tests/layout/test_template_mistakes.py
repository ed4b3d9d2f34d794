"""A mistake in a writer's template is told with the line of her own file, and what to do."""

from __future__ import annotations

import pytest

from publisher.errors import TemplateError
from tests.support.shop import book, demo, installed, with_files

FRAME, TEXT = "pages/frame.svg", "pages/text.svg"
COVER, TABLE = "blocks/cover.svg", "blocks/table.svg"


def told(name: str, old: str, new: str) -> tuple[str, str]:
    """What is told of a template with a mistake, and the place where the mistake is."""
    text = installed().text(name)
    assert old in text
    line = text[: text.index(old)].count("\n") + 1
    with pytest.raises(TemplateError) as caught:
        book(demo("heron-step"), templates=with_files({name: text.replace(old, new)}))
    (problem,) = caught.value.problems
    return str(problem), f"templates/{name}:{line}: "


@pytest.mark.parametrize(
    ("name", "old", "new", "message"),
    [
        (FRAME, "</svg>", '{% include "nosuch.svg" %}</svg>', "there is no template nosuch.svg; "),
        (
            TEXT,
            "pages/frame.svg",
            "pages/fram.svg",
            "there is no template pages/fram.svg; did you mean pages/frame.svg?",
        ),
        (FRAME, "}}H{{", "|m }}H{{", "No filter named 'm'; mend the line"),
        (FRAME, "colour.hair", "colour.hiar", "'dict object' has no attribute 'hiar'; mend"),
        (
            FRAME,
            "words.scale_inch",
            "words.scale_inhc",
            "there are no words scale_inhc; did you mean scale_inch?",
        ),
        (TABLE, 'across(x, y + height, width, "table")', "nothing()", "'nothing' is undefined"),
        (
            COVER,
            "macro fact(x, y, term, lines)",
            "macro fact(x, y, trm, lines)",
            "macro 'fact' takes no keyword argument 'term'; "
            "begin it {% macro fact(x, y, term, lines) -%}",
        ),
        (COVER, "macro fact(", "macro fcat(", "the macro fact is missing; rename fcat to fact"),
    ],
)
def test_a_mistake_is_told_with_its_line(name: str, old: str, new: str, message: str) -> None:
    said, place = told(name, old, new)
    assert said.startswith(place + message)


def test_a_macro_that_was_taken_out_is_told_with_how_it_begins() -> None:
    with pytest.raises(TemplateError) as caught:
        book(demo("heron-step"), templates=with_files({COVER: "\n"}))
    (problem,) = caught.value.problems
    assert str(problem.place) == f"templates/{COVER}:1"
    assert "{% macro title(x, y, lines, role, subtitle, target) -%}" in problem.hint


def test_a_mistake_that_shows_in_a_template_of_ours_is_told_in_hers() -> None:
    """Her page has no colours, which the frame that it extends draws with."""
    text = '{% set colour = {} %}{% extends "pages/frame.svg" %}\n'
    with pytest.raises(TemplateError) as caught:
        book(demo("heron-step"), templates=with_files({TEXT: text}))
    (problem,) = caught.value.problems
    assert str(problem.place) == f"templates/{TEXT}:1"
