"""The PDF's structure tree is the page's tree of tags, whatever is drawn in it."""

from __future__ import annotations

import io
import re
from itertools import count
from typing import Any

import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.press import print_book
from tests.support.printed import elements, letters, opened
from tests.support.svg_books import book

Tree = tuple[str, list[Any]]


def tree_of(pdf: bytes) -> list[Tree]:
    """(role, parts) of the whole document."""

    def read(element: Any) -> Tree:
        kids = element.get("/K", [])
        parts = list(kids) if isinstance(kids, pikepdf.Array) else [kids]
        inner = [read(k) for k in parts if isinstance(k, pikepdf.Dictionary) and "/S" in k]
        return (str(element.S)[1:], inner)

    with pikepdf.open(io.BytesIO(pdf)) as document:
        root = document.Root.StructTreeRoot
        return read(root.K[0])[1] if "/K" in root else []


def printed(body: str) -> list[Tree]:
    return tree_of(print_book(book(body)))


def test_a_text_without_a_tag_is_a_paragraph() -> None:
    assert printed('<text x="9" y="9">a</text><g><text x="9" y="19">b</text></g>') == [
        ("P", []),
        ("P", []),
    ]


def test_what_stands_in_a_section_is_a_paragraph_or_furniture() -> None:
    """A section holds blocks: it is no mark itself, so that no mark stands in another."""
    body = ('<g data-tag="Sect"><rect width="9" height="9"/><text x="9" y="9">a</text></g>'
            '<text data-tag="Div" x="9" y="19">b</text>')  # fmt: skip
    assert printed(body) == [("Sect", [("P", [])]), ("Div", [("P", [])])]
    document = pikepdf.open(io.BytesIO(print_book(book(body))))
    marks = [
        str(operands[0]) if operands else "end"
        for operands, operator in pikepdf.parse_content_stream(document.pages[0])
        if str(operator) in ("BDC", "BMC", "EMC")
    ]
    assert marks == ["/Artifact", "end", "/P", "end", "/P", "end"]


def test_every_note_has_a_name_of_its_own() -> None:
    """ISO 14289-1, 7.9; the names stand in the tree's IDTree, in order (ISO 32000-1, 14.7.2)."""
    note = '<text data-tag="Note" x="9" y="{}">n</text>'
    body = "".join(note.format(9 * at) for at in range(1, 13))
    document = pikepdf.open(io.BytesIO(print_book(book(body, body))))
    root = document.Root.StructTreeRoot
    notes = list(root.K[0].K)
    names = list(root.IDTree.Names)
    assert len({str(element.ID) for element in notes}) == len(notes) == 24
    assert [str(name) for name in names[::2]] == sorted(str(element.ID) for element in notes)
    for name, element in zip(names[::2], names[1::2], strict=True):
        assert str(element.ID) == str(name)
    plain = pikepdf.open(io.BytesIO(print_book(book('<text x="9" y="9">a</text>'))))
    assert "/IDTree" not in plain.Root.StructTreeRoot


def test_words_beside_a_link_are_spans() -> None:
    body = ('<text data-tag="H1" x="9" y="9">On <tspan data-tag="Link" data-href="https://e.org">'
            "the web</tspan>, see</text>")  # fmt: skip
    assert printed(body) == [("H1", [("Span", []), ("Link", []), ("Span", [])])]


def test_lines_of_one_paragraph_are_one_element() -> None:
    body = '<g data-tag="P"><text x="9" y="9">a</text><text x="9" y="14">b</text></g>'
    assert printed(body) == [("P", [])]


def words_of(body: str) -> list[str]:
    """The text of each block, as pdfium reads it by the tags."""
    with opened(print_book(book(body))) as document:
        return [element.text for element in elements(document[0])]


@pytest.mark.parametrize(
    ("body", "read"),
    [
        ("<text>a b</text><text>c</text>", ["a b c"]),
        ("<text>a</text><text></text><text> </text><text>b</text>", ["a b"]),
        ("<text data-word-goes-on='1'>kingfi</text><text>sher</text>", ["kingfisher"]),
        ("<text>a <tspan font-weight='600'>b</tspan></text><text>c</text>", ["a b c"]),
        ("<text>a<tspan x='9' y='20'>b</tspan><tspan x='9' y='30'>c</tspan></text>", ["a b c"]),
        ("<text>a <tspan x='9' y='20'>b</tspan>c</text>", ["a bc"]),
        ("<text>a</text><text data-tag='Artifact'>9</text><text>b</text>", ["a b"]),
        ("<text>a</text><text data-tag='Link' data-href='https://e.org'>b</text>", ["a b"]),
        ("<g data-tag='Link' data-href='https://e.org'><text>a</text></g><text>b</text>", ["a b"]),
        ("<text data-advance='2.2'>ab</text><text>c</text>", ["ab c"]),
        ("<text>\u0301a</text><text>c</text>", ["\u0301a c"]),
    ],
)
def test_a_reader_of_the_tags_gets_words_that_stand_apart(body: str, read: list[str]) -> None:
    """ISO 32000-1, 14.8.2.5: a break between words is a blank in the text, also at a line's end."""
    lines = count(9, 6)
    placed = re.sub("<text", lambda _: f"<text x='9' y='{next(lines)}'", body)
    assert words_of(f'<g data-tag="P">{placed}</g>') == read


def test_blocks_end_as_they_are_written() -> None:
    cells = "".join(f"<g data-tag='TD'><text x='{x}' y='9'>{x}</text></g>" for x in (20, 40))
    table = f"<g data-tag='Table'><g data-tag='TR'>{cells}</g></g>"
    texts = "<text x='9' y='20'>b</text><text x='9' y='30'>c</text>"
    assert words_of(table + texts) == ["20", "40", "b", "c"]


@pytest.mark.parametrize("anchor", ["start", "middle", "end"])
def test_the_blank_at_a_lines_end_moves_nothing(anchor: str) -> None:
    def places(body: str) -> list[tuple[str, tuple[float, ...]]]:
        with opened(print_book(book(body))) as document:
            found = letters(document[0])
        return [(letter.text, letter.box) for letter in found if letter.text.strip()]

    lines = (
        f'<text x="90" y="{y}" text-anchor="{anchor}">{words}<tspan x="50">{words}</tspan></text>'
        for y, words in ((9, "one knot"), (15, "wide holds"))
    )
    first, second = lines
    assert places(f'<g data-tag="P">{first}{second}</g>') == places(first + second)


def test_shapes_between_blocks_are_furniture_but_part_of_a_figure_inside_one() -> None:
    body = (
        '<rect width="9" height="9"/><g data-tag="Figure" data-alt="two"><rect width="9" '
        'height="9"/><text data-tag="Caption" x="9" y="20">two</text><rect width="9" height="9"/>'
        "</g>"
    )
    assert printed(body) == [("Figure", [("Span", []), ("Caption", []), ("Span", [])])]


def test_a_page_of_furniture_alone_has_no_elements() -> None:
    assert printed('<text data-tag="Artifact" x="9" y="9">a</text>') == []
    assert printed('<rect width="9" height="9" fill="none"/>') == []
    assert printed("") == []


def test_a_place_is_no_element() -> None:
    assert printed('<g data-dest="a"><text x="9" y="9">a</text></g>') == [("P", [])]


def test_a_background_over_the_whole_page_wipes_nothing_away() -> None:
    body = '<text x="9" y="9">a</text><rect width="210" height="297" fill="#eef1ec"/>'
    assert printed(body) == [("P", [])]


SHAPES = (
    '<rect width="9" height="9"/>',
    '<path d="M1 1H9" stroke="#000"/>',
    '<path d="M1 1A2 2 0 0 1 9 9"/>',
    '<rect width="9" height="9" fill="none"/>',
    '<g opacity=".5"><rect width="9" height="9"/></g>',
    '<g data-tag="Artifact"><text x="9" y="9">furniture</text></g>',
    '<g clip-path="url(#c)"><rect width="9" height="9"/></g>',
    '<rect x="900" width="9" height="9"/>',
)
shape = st.sampled_from(SHAPES).map(lambda written: (written, None))
leaf = st.sampled_from(["P", "H1", "H2", "Note"]).map(
    lambda role: (f'<text data-tag="{role}" x="9" y="9">words</text>', (role, []))
)


def group(parts: list[tuple[str, Tree | None]], role: str) -> tuple[str, Tree]:
    written = "".join(part for part, _ in parts)
    tree = [element for _, element in parts if element is not None]
    return f'<g data-tag="{role}">{written}</g>', (role, tree)


def table(rows: list[list[str]]) -> tuple[str, Tree]:
    cells = [
        [(f'<text data-tag="TD" x="9" y="9">{cell}</text>', ("TD", [])) for cell in row]
        for row in rows
    ]
    made = [group([*row, (SHAPES[1], None)], "TR") for row in cells]
    return group([*made, (SHAPES[0], None)], "Table")


blocks = st.recursive(
    st.one_of(leaf, shape, st.lists(st.lists(st.sampled_from(["a", ""]), max_size=3)).map(table)),
    lambda inner: st.builds(
        group, st.lists(inner, max_size=4), st.sampled_from(["Sect", "Div", "Part"])
    ),
    max_leaves=12,
)


@settings(max_examples=60, deadline=None)
@given(st.lists(blocks, max_size=5))
def test_the_structure_tree_is_the_pages_tree_of_tags(parts: list[tuple[str, Tree | None]]) -> None:
    first = '<text data-tag="H1" x="9" y="9">Reeds</text>'  # a book without a word has no tree
    defined = '<defs><clipPath id="c"><rect width="5" height="5"/></clipPath></defs>'
    body = "".join(written for written, _ in parts)
    wanted = [element for _, element in parts if element is not None]
    assert printed(first + defined + body) == [("H1", []), *wanted]
