"""`check` finds what is wrong in templates, whether a book of today needs them or not."""

from __future__ import annotations

import re

import pytest

from publisher.catalogue.build.job import Toolkit, do
from publisher.catalogue.build.pipeline import Pipeline
from publisher.catalogue.build.reading import date_of
from publisher.catalogue.build.values import BuildJob, Target
from publisher.catalogue.check_catalogue import check_templates
from publisher.templates import TemplateFile, Templates
from tests.support.shop import demo, installed, with_files

WORDS, FRAME = "words/en.toml", "pages/frame.svg"


def told(texts: dict[str, str]) -> list[str]:
    return [
        str(problem).removeprefix("templates/") for problem in check_templates(with_files(texts))
    ]


def test_nothing_is_wrong_with_what_came_with_the_package() -> None:
    assert check_templates(installed()) == ()
    hers = {
        name: TemplateFile(file.text, file.path, instead_of=file.text)
        for name, file in installed().files.items()
    }
    assert check_templates(Templates(hers)) == ()


@pytest.mark.parametrize(
    ("name", "old", "new", "message"),
    [
        (
            "editions/handout.toml",
            "students = 12",
            "students = 0",
            "7: `students` is 0, but the least is 1",
        ),
        (
            "editions/large-print.toml",
            "one_column",
            "one_colum",
            "nothing here is called `one_colum`",
        ),
        ("look.toml", "foot_mm = 13.0", 'foot_mm = "low"', "38: `foot_mm` must be a number"),
        ("errata.toml", '"errata"', '"cover"', '4: `sections` can\'t be "cover"'),
        (
            "listing.toml",
            "pixels = [2000, 2000]",
            "pixels = 9",
            "4: `pixels` must be a list in [brackets]",
        ),
        ("listing.toml", 'ground = "#dfe4de"', 'ground = "sand"', '14: `ground` can\'t be "sand"'),
        (WORDS, "{page} of {pages}", "{page of {pages}", "the words for frame.page_number can't"),
        (WORDS, "\nimprint = ", "\nimprnt = ", "the words for frame.imprint are missing; rename"),
        (WORDS, "[frame]\n", '[frame]\nhalf = "½"\n', "nothing prints the words for frame.half"),
        ("pages/index.svg", "{% block footer", "{% blok footer", "unknown tag 'blok'"),
        ("pages/reading.html", "{{ title", "{{ title|nice", "No filter named 'nice'"),
        (FRAME, "</svg>", '{% include "pages/own.svg" %}</svg>', "there is no template pages/own"),
        (FRAME, "{{ body }}", "", "the frame has the page's body nowhere"),
    ],
)
def test_a_mistake_is_found_without_a_pattern(name: str, old: str, new: str, message: str) -> None:
    text = installed().text(name)
    assert old in text
    first, *_ = told({name: text.replace(old, new)})
    assert re.match(rf"{re.escape(name)}:\d+: ", first)
    assert message in first


def test_what_a_list_lacks_is_told_by_tables() -> None:
    text = re.sub(r"(?s)\n\[licence\]\n.*?(?=\n\[|$)", "", installed().text(WORDS))
    assert [line for line in told({WORDS: text}) if "[licence]" in line] == [
        f"{WORDS}:1: all words below [licence] are missing; "
        "copy [licence] from the list that came with the program"
    ]


def test_words_of_her_own_are_for_templates_of_her_own() -> None:
    words = installed().text(WORDS).replace("[frame]\n", '[frame]\nhalf = "½"\n')
    frame = installed().text(FRAME).replace("</svg>", "{{ words.half }}</svg>")
    assert told({WORDS: words, FRAME: frame}) == []


def test_templates_of_her_own_are_drawn_with_but_nothing_is_made() -> None:
    text = installed().text(FRAME).replace("</svg>", "<foo/></svg>")
    pattern, target = demo("tide-lines"), Target("booklet", "a4")
    job = BuildJob(pattern, (target,), date_of(pattern.date), {}, {}, dry=True)
    result = do(Toolkit(with_files({FRAME: text}).files, {}, Pipeline()), job)
    assert [problem.message for problem in result.problems] == ["<foo> is not drawn"]
    assert do(Toolkit(installed().files, {}, Pipeline()), job).problems == ()
