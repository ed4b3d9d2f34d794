"""What a look from a stranger says besides its templates' code is no way in either: drawings that
fetch, run or blow up, and words that reach behind their values, are told in their own line."""

from __future__ import annotations

import time

import pytest

from publisher.errors import TemplateError
from publisher.layout import lay_out
from publisher.press import print_book
from tests.support.shop import book, demo, installed, manuscript, with_files

PAGE, WORDS = "pages/text.svg", "words/en.toml"
LAUGHS = "<!DOCTYPE svg [<!ENTITY a 'ha'>" + "".join(
    f"<!ENTITY {b} '{f'&{a};' * 30}'>" for a, b in zip("abcdefgh", "bcdefghi", strict=True)
)


@pytest.mark.parametrize(
    "drawn",
    [
        "<script>alert(1)</script>",
        "<script href='https://example.org/a.js'/>",
        "<foreignObject><iframe src='file:///etc/passwd'/></foreignObject>",
        "<use href='https://example.org/a.svg#a'/>",
        "<use href='file:///etc/passwd'/>",
        "<image href='https://example.org/a.png' width='9' height='9'/>",
        "<image href='file:///etc/passwd' width='9' height='9'/>",
        "<image href='/etc/passwd' width='9' height='9'/>",
        "<image href='data:image/svg+xml;base64,PHN2Zy8+' width='9' height='9'/>",
        "<a href='javascript:alert(1)'><text x='9' y='9'>a</text></a>",
        "<text x='9' y='9' data-tag='Link' data-href='javascript:alert(1)'>a</text>",
        "<text x='9' y='9' data-tag='Link' data-href='file:///etc/passwd'>a</text>",
        "<style>@import url(https://example.org/a.css);</style>",
        "<rect width='9' height='9' fill='url(https://example.org/a.svg#a)'/>",
        "<rect width='9' height='9' filter='url(file:///etc/passwd)'/>",
        "<text x='9' y='9' font-size='3'>&outside;</text>",
        "<g>" * 9999 + "</g>" * 9999,
    ],
)
def test_a_drawing_that_fetches_or_runs_is_told(drawn: str) -> None:
    page = f'{{% extends "pages/frame.svg" %}}\n{{% block footer %}}\n{drawn}\n{{% endblock %}}\n'
    with pytest.raises(TemplateError) as caught:
        print_book(book(demo("heron-step"), "handout", templates=with_files({PAGE: page})))
    assert {str(one.place) for one in caught.value.problems} == {f"templates/{PAGE}:3"}


@pytest.mark.parametrize(
    "declared",
    [
        LAUGHS + "]>",
        "<!DOCTYPE svg [<!ENTITY i SYSTEM 'file:///etc/passwd'>]>",
        "<!DOCTYPE svg SYSTEM 'https://example.org/a.dtd' [<!ENTITY i 'a'>]>",
        "<!DOCTYPE svg [<!ENTITY % p SYSTEM 'file:///etc/passwd'> %p;<!ENTITY i 'a'>]>",
    ],
)
def test_entities_are_never_put_in(declared: str) -> None:
    frame = installed().text("pages/frame.svg").replace("{{ body }}", "{{ body }}<desc>&i;</desc>")
    files = {"pages/frame.svg": f"{declared}\n{frame}"}
    started = time.process_time()
    with pytest.raises(TemplateError) as caught:
        print_book(book(demo("heron-step"), "handout", templates=with_files(files)))
    assert time.process_time() - started < 5.0
    (problem,) = caught.value.problems
    assert str(problem.place) == "templates/pages/frame.svg:1"
    assert "DOCTYPE" in problem.message


@pytest.mark.parametrize(
    "wrong",
    [
        "{page:>4000000000}",
        "{page:{pages}}",
        "{page.__class__}",
        "{page[0]}",
        "{page!r}",
        "{0}",
        "{}",
        "{page.__init__.__globals__}",
        "{page:%",
    ],
)
def test_words_that_reach_behind_a_value_are_told_with_their_line(wrong: str) -> None:
    text = installed().text(WORDS).replace("{page} of {pages}", f"{wrong} of {{pages}}")
    templates = with_files({WORDS: text})
    with pytest.raises(TemplateError) as caught:
        lay_out(manuscript(demo("heron-step"), "handout", templates=templates), templates)
    (problem,) = caught.value.problems
    line = text[: text.index(f"{wrong} of")].count("\n") + 1
    assert str(problem.place) == f"templates/{WORDS}:{line}"
    assert "{page}" in problem.hint


def test_braces_can_still_be_written() -> None:
    text = installed().text(WORDS).replace("{page} of {pages}", "{{{page}}} of {pages}")
    templates = with_files({WORDS: text})
    pages = lay_out(manuscript(demo("heron-step"), "handout", templates=templates), templates).pages
    assert f"{{1}} of {len(pages)}<" in pages[0].frame
