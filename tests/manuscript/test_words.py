"""The program's own words are complete, and say what is wrong when they are not."""

import re

import pytest
from shop import changed, demo, installed, manuscript, with_files

from publisher.errors import TemplateError
from publisher.manuscript.words import read_words


def test_a_missing_word_is_named_with_its_file() -> None:
    text = installed().text("words/en.toml").replace('title = "What you need"', "")
    with pytest.raises(TemplateError) as caught:
        manuscript(demo("tide-lines"), templates=with_files({"words/en.toml": text}))
    (problem,) = caught.value.problems
    assert problem.place.file == "templates/words/en.toml"
    assert "materials.title" in problem.message


def test_a_name_that_cannot_be_filled_in_is_told_with_those_that_can() -> None:
    text = installed().text("words/en.toml").replace("{thick} thick", "{thicc} thick")
    with pytest.raises(TemplateError) as caught:
        manuscript(demo("tide-lines"), templates=with_files({"words/en.toml": text}))
    (problem,) = caught.value.problems
    assert "thicc" in problem.message
    assert "{thick}" in problem.hint


def test_a_word_list_that_is_not_toml_is_told_with_its_line() -> None:
    with pytest.raises(TemplateError) as caught:
        read_words(with_files({"words/en.toml": '[a]\nb = "c\n'}))
    (problem,) = caught.value.problems
    assert problem.place.line == 2


def test_an_unknown_edition_names_the_known_ones() -> None:
    with pytest.raises(TemplateError) as caught:
        manuscript(demo("tide-lines"), "hardback")
    (problem,) = caught.value.problems
    assert "booklet" in problem.hint and "large-print" in problem.hint


def test_an_edition_with_an_unknown_section_names_the_known_ones() -> None:
    text = 'title = "Short"\nsections = ["cover", "appendix"]\n'
    with pytest.raises(TemplateError) as caught:
        manuscript(demo("tide-lines"), "short", templates=with_files({"editions/short.toml": text}))
    (problem,) = caught.value.problems
    assert "appendix" in problem.message and "chart" in problem.hint


def test_an_edition_with_a_wrong_look_names_the_key() -> None:
    text = 'title = "Short"\nsections = ["cover"]\n[look.chart]\ncell_max_mm = "wide"\n'
    with pytest.raises(TemplateError) as caught:
        manuscript(demo("tide-lines"), "short", templates=with_files({"editions/short.toml": text}))
    (problem,) = caught.value.problems
    assert "chart.cell_max_mm" in problem.message


def test_cautions_never_promise_what_no_one_can() -> None:
    """The house rule: hazard, action, limit, deferral; never these words."""
    forbidden = re.compile(r"\b(safe|child-safe|complies|comply|tested|fireproof|harmless)\b", re.I)
    for name, file in installed().files.items():
        if name.startswith(("cautions/", "words/", "terms/")):
            assert not forbidden.search(file.text), name


def test_every_caution_of_the_demo_has_its_text() -> None:
    for slug in ("tide-lines", "kingfisher-over-reeds"):
        sections = manuscript(demo(slug), "handout").sections
        assert any(section.name == "class-notes" for section in sections)


def test_changed_templates_leave_the_installed_ones_alone() -> None:
    changed(words__en_toml="")
    assert installed().text("words/en.toml")
