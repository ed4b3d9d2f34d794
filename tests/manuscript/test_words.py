"""The program's own words are complete, and say what is wrong when they are not."""

import re
from dataclasses import replace

import pytest

from publisher.errors import TemplateError
from publisher.layout import lay_out, lay_out_bench, lay_out_text
from publisher.manuscript.words import read_words
from tests.support.shop import changed, demo, installed, manuscript, with_files


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


@pytest.mark.parametrize(
    ("key", "name"),
    [
        ("frame.page_number", "{wrong}"),
        ("chart.tile_alt", "{wrong"),
        ("chart.map_alt", "{}"),
        ("chart_page.running", "{n.x}"),
        ("rows.title", "{wrong}"),
        ("backmap.alt", "{wrong}"),
    ],
)
def test_what_frames_and_figures_print_is_told_as_well(key: str, name: str) -> None:
    """The first name that a text has is written otherwise."""
    text, said = installed().text("words/en.toml"), read_words(installed()).texts[key]
    wrong = text.replace(f'"{said}"', f'"{re.sub("{[^}]*}", name, said, count=1)}"')
    assert wrong != text
    templates = with_files({"words/en.toml": wrong})
    with pytest.raises(TemplateError) as caught:
        lay_out(manuscript(demo("kingfisher-over-reeds"), templates=templates), templates)
    (problem,) = caught.value.problems
    assert problem.place.file == "templates/words/en.toml"
    assert f"the words for {key} can't be filled in" in problem.message


@pytest.mark.parametrize("line", ['start = "start"', 'row_done = "Row done"', 'smaller = "Smaller'])
def test_a_word_that_only_a_figure_or_page_prints_is_missed_by_name(line: str) -> None:
    text = re.sub(rf"^{re.escape(line)}.*$", "", installed().text("words/en.toml"), flags=re.M)
    templates = with_files({"words/en.toml": text})
    with pytest.raises(TemplateError) as caught:
        lay_out_bench(
            manuscript(demo("tide-lines"), "at-the-bench", templates=templates), templates
        )
    (problem,) = caught.value.problems
    assert f".{line.split(' ')[0]}" in problem.message and "missing" in problem.message


def test_a_heading_whose_words_are_left_out_leaves_the_rest_in_place() -> None:
    text = installed().text("words/en.toml").replace('cutting = "Cutting list"', 'cutting = ""')
    templates = with_files({"words/en.toml": text})
    book = lay_out(manuscript(demo("tide-lines"), templates=templates), templates)
    (page,) = (page for page in book.pages if "to spare in it" in page.svg)
    assert "Cutting list" not in page.svg


def test_a_word_list_that_is_not_toml_is_told_with_its_line() -> None:
    with pytest.raises(TemplateError) as caught:
        read_words(with_files({"words/en.toml": '[a]\nb = "c\n'}))
    (problem,) = caught.value.problems
    assert problem.place.line == 2


def test_a_word_list_that_breaks_off_is_told_plainly() -> None:
    with pytest.raises(TemplateError) as caught:
        read_words(with_files({"words/en.toml": '[a]\nb = """c'}))
    told = (
        "templates/words/en.toml:2: the text that begins here with three quotes never ends; "
        "put the three quotes again on a line of their own below its last line"
    )
    assert [str(problem) for problem in caught.value.problems] == [told]


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
    assert "`cell_max_mm` must be a number" in problem.message


def test_an_edition_whose_look_is_no_table_is_told() -> None:
    text = 'title = "Short"\nsections = ["cover"]\nlook = "large"\n'
    with pytest.raises(TemplateError) as caught:
        manuscript(demo("tide-lines"), "short", templates=with_files({"editions/short.toml": text}))
    (problem,) = caught.value.problems
    assert "`look` must be a table" in problem.message


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


@pytest.mark.parametrize("slug", ["kingfisher-over-reeds", "lock-keepers-key-cord"])
def test_no_colours_name_meets_an_article(slug: str) -> None:
    """A writer may call a colour “the colour of straw”: no sentence has an article before it."""
    pattern = demo(slug)
    named = [replace(colour, name=f"the {colour.name}") for colour in pattern.colours]
    told = lay_out_text(manuscript(replace(pattern, colours=tuple(named)), "plain-text"))
    assert "of the dry straw" in told or "of the lock-gate blue" in told
    assert not re.search(r"\b(the|an?)\s+the\b", told.lower())
