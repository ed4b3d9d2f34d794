"""What a page may not say is refused, with its line and what to write instead."""

from __future__ import annotations

import pytest

from publisher.press.svg.tree import PageError, read_tree
from tests.support.svg_books import SANS, svg


@pytest.mark.parametrize(
    ("body", "message"),
    [
        ('<use href="#a"/>', "<use> is not drawn"),
        ("<style>text{fill:red}</style>", "<style> is not drawn"),
        ("<script>1</script>", "<script> is not drawn"),
        ("<foreignObject/>", "<foreignObject> is not drawn"),
        ('<pattern id="a"/>', "<pattern> is not drawn"),
        ("<animate/>", "<animate> is not drawn"),
        ('<text class="head">a</text>', "class is not drawn"),
        ('<g filter="url(#f)"/>', "filter is not drawn"),
        ('<path marker-end="url(#m)"/>', "marker-end is not drawn"),
        ('<text letter-spacing="1">a</text>', "letter-spacing is not drawn"),
        ('<g style="mask: url(#m)"/>', "mask is not drawn"),
        ("<svg/>", "an <svg> stands inside another"),
        ("<tspan>a</tspan>", "a <tspan> stands outside a <text>"),
        ("<text><rect/></text>", "<rect> stands inside a text"),
        ("<g>loose words</g>", "words stand outside a text: “loose words”"),
        ('<g data-tag="Paragraph"/>', "“Paragraph” is no structure type"),
        ('<g data-tag="Figure"/>', "a Figure has no data-alt"),
        ('<text data-tag="Link">a</text>', "a Link has no data-href"),
        ('<text data-tag="TH" data-scope="All">a</text>', "a TH stands inside a Document"),
        ('<g data-tag="Table"><text data-tag="TD">a</text></g>', "a TD stands inside a Table"),
        ('<g data-tag="L"><text>a</text></g>', "“a” stands in a L, but in no part of it"),
        ('<g data-tag="Artifact"><text data-tag="P">a</text></g>', "a P stands inside an Artifact"),
        ("<g>" * 200 + "</g>" * 200, "more than 150 deep"),
        ("<g>", "not well-formed XML: mismatched tag"),
        ("<text>&undefined;</text>", "not well-formed XML"),
        ("<text>\x01</text>", "not well-formed XML"),
    ],
)
def test_what_is_not_drawn_is_an_error(body: str, message: str) -> None:
    with pytest.raises(PageError) as caught:
        read_tree(svg(body))
    assert message in caught.value.message
    assert caught.value.hint


def test_an_error_knows_its_line() -> None:
    with pytest.raises(PageError) as caught:
        read_tree("<svg xmlns='http://www.w3.org/2000/svg'>\n<g>\n<use/></g></svg>")
    assert caught.value.line == 3


@pytest.mark.parametrize(
    "page",
    [
        '<!DOCTYPE svg><svg xmlns="http://www.w3.org/2000/svg"/>',
        '<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;">]><svg><text>&b;</text></svg>',
        '<!DOCTYPE svg [<!ENTITY f SYSTEM "file:///etc/passwd">]><svg><text>&f;</text></svg>',
    ],
)
def test_no_doctype_no_entities(page: str) -> None:
    with pytest.raises(PageError, match="DOCTYPE"):
        read_tree(page)


def test_a_page_begins_with_svg() -> None:
    with pytest.raises(PageError, match=r"<html>"):
        read_tree("<html/>")


def test_words_about_the_drawing_and_foreign_elements_are_passed_over() -> None:
    tree = read_tree(
        svg(
            "<title>a <b/> c</title><desc>d</desc>"
            '<x:view xmlns:x="urn:editor"><path/></x:view><rect/>'
        )
    )
    assert [child.name for child in tree.children] == ["rect"]


def test_styles_come_down_and_the_nearest_wins() -> None:
    tree = read_tree(svg('<g fill="#111" data-tag="P"><text style="fill: #222; x: 3">a</text></g>'))
    group = tree.children[0]
    text = group.children[0]
    assert (group.style["fill"], text.style["fill"]) == ("#111", "#222")
    assert text.own["x"] == "3"
    assert text.style["font-family"] in SANS
    assert "data-tag" not in text.style


def test_children_without_a_style_of_their_own_share_their_parents() -> None:
    group = read_tree(svg('<g fill="#111"><rect x="1"/><rect x="2"/></g>')).children[0]
    assert all(child.style is group.style for child in group.children)


def test_words_after_a_tspan_are_kept() -> None:
    text = read_tree(svg("<text>a <tspan>b</tspan> c</text>")).children[0]
    assert text.text == "a "
    assert [child.text for child in text.children] == ["b", " c"]


def test_an_element_knows_whether_parts_of_it_are_tagged() -> None:
    tree = read_tree(svg('<g><g><text data-tag="P">a</text></g></g><g><text>b</text></g>'))
    assert [child.parts for child in tree.children] == [True, False]
    assert tree.children[0].children[0].parts
