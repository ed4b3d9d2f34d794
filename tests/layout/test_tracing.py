"""What can't be drawn is told once, in the line of the writer's template that it comes from."""

from __future__ import annotations

import pytest

from publisher.errors import FontError, TemplateError
from publisher.press import print_book
from tests.support.shop import book, demo, installed, with_files

FRAME, TEXT = "pages/frame.svg", "pages/text.svg"
COVER, WORDS = "blocks/cover.svg", "blocks/text.svg"
END = "</svg>"


def problems(texts: dict[str, str]) -> list[str]:
    """What is told of a whole book that is printed with these templates."""
    with pytest.raises(TemplateError) as caught:
        print_book(book(demo("heron-step"), templates=with_files(texts)))
    return [str(problem) for problem in caught.value.problems]


def line_of(name: str, what: str) -> str:
    text = installed().text(name)
    return f"templates/{name}:{text[: text.index(what)].count(chr(10)) + 1}: "


@pytest.mark.parametrize(
    ("wrong", "message"),
    [
        ("<foo/>", "<foo> is not drawn; draw it with shapes and text"),
        ("<rect><", "this is not well-formed XML: not well-formed (invalid token); mend the line"),
        ("&foo;", "this is not well-formed XML: undefined entity; mend the line"),
        ("<g>", "<g> is not closed; write </g> where it ends"),
        ('<path d="M 1 x"/>', "“1 x” is not a list of numbers; write plain numbers"),
        (
            '<path d="M {{ paper.width_mm }} {{ page_number.width_mm }}x"/>',
            None,
        ),
        (
            '<g data-dest="here"/>',
            "the place “here” is on page 1 too; rename one",
        ),
    ],
)
def test_a_mistake_in_a_frame_is_told_once(wrong: str, message: str | None) -> None:
    text = installed().text(FRAME).replace(END, f"{wrong}\n{END}")
    (told,) = problems({FRAME: text})
    assert told.startswith(line_of(FRAME, END) + (message or "“"))


@pytest.mark.parametrize(
    ("name", "old", "new", "message"),
    [
        (WORDS, "<path", "<pth", "<pth> is not drawn"),
        (COVER, 'data-tag="H1"', 'data-tag="H11"', "“H11” is no structure type"),
        (COVER, "{{ ink.lines(x, y, lines, role) }}</g>", "</g></g>", "there is an end tag too "),
    ],
)
def test_a_mistake_in_a_macro_is_told_in_its_line(
    name: str, old: str, new: str, message: str
) -> None:
    text = installed().text(name)
    told = problems({name: text.replace(old, new, 1)})
    assert [line.startswith(line_of(name, old) + message) for line in told] == [True]


def test_an_element_left_open_is_told_where_it_begins_not_where_it_shows() -> None:
    """The frame, which is as it came with the package, would be blamed for it."""
    mark = '<g data-tag="LI"><g data-tag="Lbl">'
    text = installed().text(COVER).replace("</g></g>\n{%- endmacro", "</g>\n{%- endmacro")
    assert problems({COVER: text}) == [
        f"{line_of(COVER, mark)}<g> is not closed; write </g> where it ends"
    ]


def test_a_title_without_its_place_is_told_by_its_macro() -> None:
    text = installed().text(COVER).replace(' data-dest="{{ target }}"', "")
    (told,) = problems({COVER: text})
    assert told.startswith(line_of(COVER, "{% macro title") + "no element has the place that links")
    assert 'data-dest="{{ target }}"' in told


@pytest.mark.parametrize(
    ("written", "told"),
    [("", "nowhere"), ("{{ body }}{{ body }}", "twice"), ("{{ body|e|upper }}", "nowhere")],
)
def test_a_frame_has_its_body_just_once(written: str, told: str) -> None:
    """It is told before any page is drawn: `check` sees it, too."""
    text = installed().text(FRAME).replace("{{ body }}", written)
    with pytest.raises(TemplateError) as caught:
        book(demo("heron-step"), templates=with_files({FRAME: text}))
    (problem,) = caught.value.problems
    place = line_of(FRAME, "{{ body }}") if written else line_of(FRAME, END)
    assert str(problem).startswith(f"{place}the frame has the page's body {told}; write ")


def test_a_body_that_is_there_in_some_pages_only_is_told_where_it_stands() -> None:
    text = installed().text(FRAME).replace("{{ body }}", "{% if first_page %}{{ body }}{% endif %}")
    with pytest.raises(TemplateError) as caught:
        book(demo("heron-step"), templates=with_files({FRAME: text}))
    (problem,) = caught.value.problems
    assert str(problem.place) == line_of(FRAME, "{{ body }}").removesuffix(": ")


def test_a_frame_of_hers_that_puts_the_body_twice_is_told_in_hers() -> None:
    text = installed().text(TEXT) + "{% block footer %}\n{{ body }}{% endblock %}\n"
    with pytest.raises(TemplateError) as caught:
        book(demo("heron-step"), templates=with_files({TEXT: text}))
    (problem,) = caught.value.problems
    assert str(problem.place) == f"templates/{TEXT}:3"


def test_a_book_that_can_be_printed_is_the_same_when_it_is_traced() -> None:
    plain = book(demo("heron-step"))
    assert plain.traced is not None
    traced = plain.traced()
    assert [page.svg for page in traced.pages] == [page.svg for page in plain.pages]
    assert all(page.origins for page in traced.pages)


@pytest.mark.parametrize(
    "written",
    ['<text x="20" y="280" {{ font("body") }}>水</text>', '{{ ink.words(20, 280, "水", small) }}'],
)
def test_a_character_that_no_font_has_is_told_where_it_is_written(written: str) -> None:
    text = installed().text(FRAME).replace(END, f"{written}\n{END}")
    with pytest.raises(FontError) as caught:
        print_book(book(demo("heron-step"), templates=with_files({FRAME: text})))
    (problem,) = caught.value.problems
    assert str(problem).startswith(line_of(FRAME, END) + "Source Sans")
