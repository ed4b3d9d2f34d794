"""What is wrong in a word list is told with the line of it, once, and what to do."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from publisher.catalogue.workshop import read_templates
from publisher.errors import TemplateError
from publisher.layout import lay_out
from publisher.manuscript.words import read_words
from tests.support.shop import demo, installed, manuscript, with_files

FILE = "words/en.toml"


def line_of(text: str, what: str) -> int:
    return text[: text.index(what)].count("\n") + 1


def test_words_that_cannot_be_filled_in_are_told_with_their_line() -> None:
    text = installed().text(FILE).replace("{page} of {pages}", "{leaf} of {pages}")
    templates = with_files({FILE: text})
    with pytest.raises(TemplateError) as caught:
        lay_out(manuscript(demo("tide-lines"), templates=templates), templates)
    (problem,) = caught.value.problems
    assert str(problem.place) == f"templates/{FILE}:{line_of(text, '{leaf} of')}"


def test_words_that_are_missing_are_told_at_their_table() -> None:
    text = installed().text(FILE).replace('title = "What you need"', "")
    with pytest.raises(TemplateError) as caught:
        manuscript(demo("tide-lines"), templates=with_files({FILE: text}))
    (problem,) = caught.value.problems
    assert str(problem.place) == f"templates/{FILE}:{line_of(text, '[materials]')}"
    assert problem.hint == 'add title = "…" below [materials]'


def test_words_under_another_name_are_told_at_that_name() -> None:
    text = installed().text(FILE).replace("\npage_number =", "\npage_numbr =")
    templates = with_files({FILE: text})
    with pytest.raises(TemplateError) as caught:
        lay_out(manuscript(demo("tide-lines"), templates=templates), templates)
    (problem,) = caught.value.problems
    assert str(problem.place) == f"templates/{FILE}:{line_of(text, 'page_numbr')}"
    assert problem.hint == "rename page_numbr to page_number"


def test_an_index_without_its_words_is_told_by_them() -> None:
    text = re.sub(r"(?s)\n\[index\]\n.*?(?=\n\[)", "", installed().text(FILE))
    with pytest.raises(TemplateError, match=r"words/en\.toml:1: the words for index\.file are"):
        read_words(with_files({FILE: text})).under("index")["file"]


def test_all_that_is_no_text_is_told_at_once() -> None:
    with pytest.raises(TemplateError) as caught:
        read_words(with_files({FILE: '[a]\nb = 1\nc = "c"\n[d.e]\nf = [\n]\n'}))
    assert [str(problem.place) for problem in caught.value.problems] == [
        f"templates/{FILE}:2",
        f"templates/{FILE}:5",
    ]


def test_a_file_of_hers_knows_what_it_stands_for(tmp_path: Path) -> None:
    (tmp_path / "words").mkdir()
    (tmp_path / FILE).write_text("[a]\n", "utf-8")
    (tmp_path / "look.toml").write_text(installed().text("look.toml"), "utf-8")
    files = read_templates(tmp_path).files
    assert files[FILE].instead_of == installed().text(FILE)
    assert not files["look.toml"].instead_of


@pytest.mark.parametrize("wrong", ["{cat}", "{dowel.cat}", "{", "{0}"])
def test_a_caution_that_cannot_be_filled_in_is_told_with_its_line(wrong: str) -> None:
    name = "cautions/free-cords.txt"
    text = f"*Cords.* Long ones\nare {wrong} a hazard.\n"
    with pytest.raises(TemplateError) as caught:
        manuscript(demo("tide-lines"), templates=with_files({name: text}))
    (problem,) = caught.value.problems
    assert str(problem.place) == f"templates/{name}:2"
    assert "{dowel}" in problem.hint
