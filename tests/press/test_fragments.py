"""A page whose body is drawn apart from its frame looks and reads as the page drawn whole."""

from __future__ import annotations

import io
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from typing import Any

import pikepdf
import pypdfium2
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from publisher.errors import PublisherError, TemplateError
from publisher.model.book import BODY, Book, Page
from publisher.press import page_pictures, print_book
from publisher.press.pdf import fragments
from publisher.store import Memory, Store
from tests.support.cairo_library import needs_cairo
from tests.support.svg_books import BOLD, RICH, SERIF, svg

PIXEL = (
    "data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAIAAACQd1PeAAAADElEQVR4nGP4"
    "z8AAAAMBAQDJ/pLvAAAAAElFTkSuQmCC"
)
PARTS = [
    '<text x="20" y="30">words, 12½″</text>',
    '<text x="20" y="40" data-advance="6">NNNN</text>',
    f'<text x="20" y="50" data-tag="H2" data-dest="here" {SERIF}>Reeds</text>',
    '<text x="20" y="60" data-tag="P">See <tspan data-tag="Link" data-href="#here">the reeds'
    f'</tspan> or <tspan {BOLD} data-tag="Link" data-href="https://example.org">more</tspan></text>',
    '<rect x="20" y="70" width="20" height="9" fill="#c04020" opacity=".4"/>',
    '<rect x="25" y="72" width="20" height="9" stroke="#0000ff80" stroke-width="2"/>',
    '<path d="M50 70H80" stroke="#080" stroke-dasharray="3 1" stroke-linecap="round"/>',
    '<path d="M50 75H80" stroke="#080" fill="none"/>',
    '<g opacity=".5"><rect x="50" y="80" width="9" height="9"/><circle cx="60" cy="84" r="4"/></g>',
    '<g transform="rotate(10 60 60) scale(1.5)"><text x="20" y="60" fill="#00c">turned</text></g>',
    f'<image href="{PIXEL}" x="70" y="80" width="9" height="9"/>',
    '<g data-tag="Figure" data-alt="A dot."><circle cx="90" cy="20" r="3"/><text data-tag="Caption"'
    ' x="85" y="30">dot</text></g>',
    '<g data-tag="Table"><g data-tag="TR"><text data-tag="TH" x="60" y="15">a</text></g></g>',
    '<g data-tag="Artifact"><text x="60" y="95" fill="#777">foot</text></g>',
    '<g data-tag="Sect"><rect x="2" y="2" width="3" height="3"/><text x="6" y="5">in</text></g>',
    '<text x="20" y="95" fill="none">unseen</text>',
]
"""What a body may have. Nothing twice: a place has one name."""

FRAMES = {
    "alone": "{}",
    "between": '<text x="5" y="8">Reedbank</text>{}<text x="5" y="98">1</text>',
    "moved": '<g transform="translate(3 2) scale(.9)">{}</g>',
    "in a section": '<g data-tag="Sect"><text x="5" y="8">Reedbank</text>{}</g>',
    "in a style": f'<g fill="#804020" stroke-width="3" {BOLD} font-size="5">{{}}</g>',
    "after what shows through": '<rect width="90" height="9" fill="#00f" opacity=".2"/>{}',
    "after a line that shows through": '<path d="M0 9H90" stroke="#0004"/>{}<path d="M0 99H90"/>',
    "after letters apart": '<text x="5" y="8" data-advance="9">NNNN</text>{}',
    "after dashes": '<path d="M0 9H90" stroke="#f00" stroke-dasharray="1 2" stroke-width="2" '
    'stroke-linejoin="round" stroke-miterlimit="9"/>{}',
    "clipped": '<defs><clipPath id="c"><circle cx="50" cy="50" r="45"/></clipPath></defs>'
    '<g clip-path="url(#c)">{}</g>',
}  # fmt: skip


def page(frame: str, body: str, label: str = "1") -> Page:
    return Page(svg(frame.replace("{}", BODY), 100, 100), 100, 100, label, body)


def of(*pages: Page) -> Book:
    return replace(RICH, pages=pages, bookmarks=())


def whole(one: Page) -> Page:
    return Page(one.svg, one.width_mm, one.height_mm, one.label)


def told(pdf: bytes) -> dict[str, Any]:
    """What a reader sees and is told: pixels, words, structure, links and places."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        assert document.check_pdf_syntax() == []

        def tree(element: Any) -> Any:
            kids = element.get("/K", [])
            parts = list(kids) if isinstance(kids, pikepdf.Array) else [kids]
            inner = [tree(k) if "/S" in k else "link" for k in parts if not isinstance(k, int)]
            marks = sum(isinstance(k, int) for k in parts)
            return str(element.S), str(element.get("/Alt", "")), marks, inner

        notes = [
            [
                ([float(side) for side in note.Rect], str(note.get("/Dest", note.get("/A"))))
                for note in held.get("/Annots", [])
            ]
            for held in document.pages
        ]
        names = list(document.Root.Names.Dests.Names)
        places = {
            str(names[at]): (
                [p.objgen for p in document.pages].index(names[at + 1][0].objgen),
                [float(side) for side in list(names[at + 1])[2:4]],
            )
            for at in range(0, len(names), 2)
        }
        structure = tree(document.Root.StructTreeRoot.K[0])
    read = pypdfium2.PdfDocument(pdf)
    return {
        "pixels": [picture.tobytes() for picture in page_pictures(pdf, 60)],
        "words": [one.get_textpage().get_text_range() for one in read],
        "structure": structure,
        "links": notes,
        "places": places,
    }


def streams(pdf: bytes) -> list[int]:
    """In how many streams each page's content is: three if its body is one of its own."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        return [len(held.Contents) for held in document.pages]


def assert_same(one: Page) -> None:
    parted, entire = print_book(of(one)), print_book(of(whole(one)))
    assert (streams(parted), streams(entire)) == ([3], [1])
    found, wanted = told(parted), told(entire)
    assert found == wanted


@settings(max_examples=80, deadline=None)
@given(
    st.lists(st.sampled_from(PARTS), min_size=1, max_size=5, unique=True).filter(
        lambda parts: PARTS[3] not in parts or PARTS[2] in parts
    ),
    st.sampled_from(sorted(FRAMES)),
)
@example(PARTS, "after what shows through")
@example(PARTS, "after a line that shows through")
def test_a_page_with_its_body_apart_is_the_page_drawn_whole(parts: list[str], frame: str) -> None:
    assert_same(page(FRAMES[frame], "".join(parts)))


@pytest.mark.parametrize("frame", FRAMES)
def test_every_part_in_every_frame(frame: str) -> None:
    assert_same(page(FRAMES[frame], "\n".join(PARTS)))


@pytest.mark.parametrize(
    "frame",
    [
        '<g opacity=".5">{}</g>',
        '<g data-tag="Artifact">{}</g>',
        '<g data-tag="P">{}</g>',
        '<g data-dest="around">{}</g>',
        '<g display="none">{}</g><text x="5" y="9">seen</text>',
        "<defs>{}</defs>",
        '<defs><clipPath id="c">{}</clipPath></defs>',
        "{}{}",
        "<!-- {} -->",
        "<title>{}</title>",
        "",
        '<defs><linearGradient id="g">{}</linearGradient></defs>',
    ],
)
def test_a_body_that_can_not_stand_apart_is_drawn_with_its_frame(frame: str) -> None:
    frame += '<text x="50" y="8">frame</text>'
    one = page(frame, '<text x="20" y="30">body</text><rect x="9" y="9" width="9" height="9"/>')
    parted, entire = print_book(of(one)), print_book(of(whole(one)))
    assert streams(parted) == [1]
    assert told(parted) == told(entire)


@pytest.mark.parametrize(
    ("before", "body"),
    [
        ('<defs><clipPath id="c"><circle cx="30" cy="30" r="9"/></clipPath></defs>',
         '<g clip-path="url(#c)"><rect width="90" height="90"/></g>'),
        ('<defs><clipPath id="c"><circle cx="30" cy="30" r="9"/></clipPath></defs>',
         '<g clip-path="url( #c )"><rect width="90" height="90"/></g>'),
        pytest.param(
            '<defs><linearGradient id="g"><stop offset="0" stop-color="#f00"/><stop offset="1" '
            'stop-color="#00f"/></linearGradient></defs>',
            '<rect width="90" height="90" fill="url(\'#g\')"/>', marks=needs_cairo),
    ],
)  # fmt: skip
def test_a_body_may_name_what_its_frame_defines(before: str, body: str) -> None:
    one = page(before + '{}<text x="50" y="8">frame</text>', body)
    parted = told(print_book(of(one)))
    assert parted == told(print_book(of(whole(one))))
    blank = told(print_book(of(whole(page('<text x="50" y="8">frame</text>', "")))))
    assert parted["pixels"] != blank["pixels"]


def test_a_body_may_use_a_name_space_of_its_frame() -> None:
    link = f'<image xlink:href="{PIXEL}" x="20" y="20" width="50" height="50"/>'
    one = page(
        '<g xmlns:xlink="http://www.w3.org/1999/xlink">{}</g><text x="5" y="8">a</text>', link
    )
    assert told(print_book(of(one))) == told(print_book(of(whole(one))))


@pytest.fixture
def drawn(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """The bodies that are drawn, each time one is."""
    bodies: list[str] = []
    draw = fragments._draw

    def note(body: str, *rest: Any) -> fragments.Fragment:
        bodies.append(body)
        return draw(body, *rest)

    monkeypatch.setattr(fragments, "_draw", note)
    return bodies


def test_the_same_body_is_drawn_once_for_pages_and_books(drawn: list[str]) -> None:
    memory = Memory()
    body = PARTS[0] + PARTS[4]
    pages = [page(f'<text x="5" y="9">{number}</text>{{}}', body) for number in range(3)]
    print_book(of(*pages), Store(memory))
    assert len(drawn) == 1
    other = print_book(of(page('<g data-tag="Sect">{}</g>', body)), Store(memory))
    assert len(drawn) == 1
    assert told(other) == told(print_book(of(whole(page('<g data-tag="Sect">{}</g>', body)))))
    moved = page('<g transform="translate(9 0)">{}</g>', body)
    assert told(print_book(of(moved), Store(memory))) == told(print_book(of(whole(moved))))
    assert len(drawn) == 2


def test_a_kept_body_has_its_links_where_it_stands_each_time() -> None:
    body, memory = PARTS[2] + PARTS[3], Memory()
    for shift in (0, 11, 0):
        one = page(f'<g transform="translate({shift} {shift})">{{}}</g>', body)
        assert told(print_book(of(one), Store(memory))) == told(print_book(of(whole(one))))


def test_a_kept_body_has_the_style_around_it_each_time() -> None:
    memory = Memory()
    for fill in ("#f00", "#00f", "a&quot;b", "#f00"):
        one = page(f'<g color="{fill}" fill="#123">{{}}</g>', PARTS[0] + PARTS[5])
        assert told(print_book(of(one), Store(memory))) == told(print_book(of(whole(one))))


def test_printing_again_changes_nothing_that_is_kept() -> None:
    memory = Memory()
    first = of(page("{}", "".join(PARTS)), page("{}", PARTS[8] + PARTS[11]))
    once = print_book(first, Store(memory))
    print_book(of(page(FRAMES["between"], "".join(PARTS))), Store(memory))
    assert print_book(first, Store(memory)) == once == print_book(first)


def test_a_later_run_prints_the_same_from_what_was_kept(drawn: list[str]) -> None:
    one, store = of(page("{}", "".join(PARTS))), Store(Memory())
    printed = print_book(one, store)
    drawn.clear()
    assert print_book(one, Store(Memory(), store.collect())) == printed
    assert drawn == []


def test_books_printed_side_by_side_come_out_as_one_by_one() -> None:
    books = [
        of(*[page("{}", f"{PARTS[(k + n) % 2]}<desc>{(k + n) % 5}</desc>") for n in range(4)])
        for k in range(8)
    ]
    wanted = [print_book(one) for one in books]
    memory = Memory()
    with ThreadPoolExecutor(4) as threads:
        printed = threads.map(lambda one: print_book(one, Store(memory)), books * 3)
        assert list(printed) == wanted * 3


BROKEN = [
    ('<text x="9" y="9">a</text>\n<rect x="wide"/>', "“wide” is not a number", 1),
    ('\n\n<use href="#a"/>', "<use> is not drawn", 2),
    ('\n<text data-tag="Link" data-href="#no" x="9" y="9">a</text>', "leads to “no”", 1),
    ('\n<g>\n<text data-dest="b" x="9" y="9">a</text></g><g data-dest="b"/>', "“b” is on page", 2),
    ('\n<g data-tag="TR"/>', "a TR stands inside a Sect", 1),
    ("\n<g", "not well-formed", None),
]


@pytest.mark.parametrize(("body", "message", "below"), BROKEN)
def test_what_is_wrong_is_told_with_its_line_in_the_whole_page(
    body: str, message: str, below: int | None
) -> None:
    one = page('<text x="5" y="9">head</text>\n<g data-tag="Sect">\n{}</g>', body)
    with pytest.raises(TemplateError, match=message) as parted:
        print_book(of(one))
    with pytest.raises(TemplateError, match=message) as entire:
        print_book(of(whole(one)))
    assert [str(p) for p in parted.value.problems] == [str(p) for p in entire.value.problems]
    if below is not None:
        assert parted.value.problems[0].place.line == 3 + below


def test_what_is_wrong_with_the_frame_is_told_too() -> None:
    one = page('\n{}\n<rect x="wide"/>', PARTS[0] + "\n" + PARTS[4])
    with pytest.raises(TemplateError, match="wide") as caught:
        print_book(of(one))
    assert caught.value.problems[0].place.line == 4


@settings(max_examples=100, deadline=None)
@given(
    st.lists(st.sampled_from(PARTS), min_size=1, max_size=4, unique=True).map("".join),
    st.sampled_from(sorted(FRAMES)),
    st.booleans(),
    st.integers(0, 500),
    st.integers(0, 4),
    st.sampled_from(
        ["", "<", '"', "-", "9", "nan", "1e300", "1e-9", "&", "</g>", "\n", 'opacity="3" ',
         'data-dest="q" ', 'data-tag="P" ', "é", "#"]
    ),
)  # fmt: skip
def test_a_spoilt_page_is_the_same_or_told_the_same(
    body: str, name: str, in_body: bool, at: int, cut: int, put: str
) -> None:
    frame = FRAMES[name]
    if in_body:
        body = body[:at] + put + body[at + cut :]
    else:
        frame = frame[:at] + put + frame[at + cut :]
    results = []
    for one in (page(frame, body), whole(page(frame, body))):
        try:
            results.append(told(print_book(of(one))))
        except PublisherError as error:
            results.append({"problems": [str(problem) for problem in error.problems]})
    assert results[0] == results[1]
