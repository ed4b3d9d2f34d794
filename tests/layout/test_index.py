"""The index of a catalogue, page by page: every pattern whole on a page, whatever it is called."""

from __future__ import annotations

import dataclasses
import re
from html import unescape

import pytest

from publisher.knots import load_knots
from publisher.layout import lay_out, lay_out_index
from publisher.manuscript import write_entry, write_index
from publisher.manuscript.blocks import Cover, Manuscript
from publisher.manuscript.index import IndexEntry
from publisher.manuscript.measures import Measures
from publisher.manuscript.words import read_words
from publisher.model.book import Book
from publisher.model.figure import Figure
from tests.support.shop import DATE, SLUGS, demo, demo_plan, installed, manuscript


def entries() -> list[IndexEntry]:
    return [write_entry(demo(slug), demo_plan(slug), load_knots(), installed()) for slug in SLUGS]


def index(
    of: list[IndexEntry], paper: str = "a4", **books: tuple[tuple[str, str], ...]
) -> Manuscript:
    return write_index(of, books, installed(), paper, DATE)


def book(of: list[IndexEntry], paper: str = "a4") -> Book:
    return lay_out(index(of, paper), installed())


def words(svg: str) -> str:
    return unescape(" ".join(re.sub(r"<[^>]*>", " ", svg).split()))


@pytest.mark.parametrize("paper", ["a4", "letter"])
def test_says_of_each_what_a_buyer_looks_for(paper: str) -> None:
    svg = "".join(page.svg for page in book(entries(), paper).pages)
    told = words(svg)
    for slug in SLUGS:
        pattern, plan = demo(slug), demo_plan(slug)
        assert pattern.title in told
        assert f"{len(plan.colours)} colours" in told
        assert f"Version {pattern.version}" in told
        assert pattern.level.partition(":")[0].capitalize() in told
        for colour in plan.colours:
            assert colour.name.split()[0] in told
            assert f'fill="{colour.srgb.hex}"' in svg
        assert f'data-alt="{pattern.title} as it will hang' in svg


def test_is_in_the_order_of_titles() -> None:
    told = words(book(list(reversed(entries()))).pages[0].svg)
    titles = sorted((demo(slug).title for slug in SLUGS), key=str.casefold)
    places = [told.index(f"{title} ") for title in titles]
    assert places == sorted(places)


def test_sizes_are_those_of_the_booklets_cover() -> None:
    for entry in entries():
        size = Measures(read_words(installed()), entry.units).size(entry.width_mm, entry.height_mm)
        (cover,) = manuscript(demo(entry.slug)).sections[0].body
        assert isinstance(cover, Cover)
        assert any(values[:2] == size for _, values in cover.facts)


def strange(entry: IndexEntry, number: int) -> IndexEntry:
    """A pattern that says too much, or next to nothing."""
    much = number % 2 == 0
    return dataclasses.replace(
        entry,
        slug=f"strange-{number}",
        title=f"{number} " + ("Rushes and reeds at the upper weir in winter " * 3 if much else "x"),
        subtitle="Seen from the far bank before anyone is up " * 3 if much else "",
        level="confident" if much else "",
        colours=tuple((f"a colour of {n} words", f"#{n * 9:02x}80c0") for n in range(26))
        if much
        else entry.colours[:1],
    )


@pytest.mark.parametrize("count", [1, 2, 4, 40])
def test_every_card_is_whole_on_its_page(count: int) -> None:
    first = entries()[0]
    printed = book([strange(first, number) for number in range(count)])
    bottom = printed.pages[0].height_mm - 20.0
    for page in printed.pages:
        body = page.svg[: page.svg.rindex('<g data-tag="Artifact"><text')]
        lines = [float(y) for y in re.findall(r'<text x="[^"]*" y="([^"]*)"', body)]
        assert max(lines) < bottom
    assert sum(page.svg.count("data-dest=") for page in printed.pages) == count + 1
    assert len(printed.bookmarks) == count + 1


def test_pattern_without_a_chart_has_no_picture() -> None:
    bare = dataclasses.replace(entries()[0], columns=0, picture=Figure("", 0.0, 0.0))
    page = book([bare]).pages[0].svg
    assert "Figure" not in page and " × " not in page
    assert "<img" not in lay_out_index(index([bare]), installed())


def test_names_are_words_and_not_markup() -> None:
    """On the page and on the web, whatever a writer calls a pattern or a colour."""
    sly = '<script>alert("x")</script> & {{ 7 * 7 }}'
    entry = dataclasses.replace(
        entries()[0], title=sly, subtitle=sly, level=sly, colours=((sly, "#123456"),)
    )
    page = lay_out_index(index([entry], **{entry.slug: ((sly, "a.pdf"),)}), installed())
    assert "<script" not in page and unescape(page).count(sly) >= 4
    assert "<script" not in book([entry]).pages[0].svg


def test_web_page_has_a_place_and_the_books_of_each() -> None:
    of = entries()
    books = {entry.slug: (("Booklet, A4", f"{entry.slug}/a%20b.pdf"),) for entry in of}
    page = lay_out_index(write_index(of, books, installed(), "a4", DATE), installed())
    for entry in of:
        assert f'id="pattern-{entry.slug}"' in page
        assert f'src="{entry.slug}/picture.png"' in page
        assert f'<a href="{entry.slug}/a%20b.pdf">Booklet, A4</a>' in page
    assert "http" not in page.replace("http-equiv", "")


def test_where_nobody_is_named_the_foot_begins_with_what_it_is() -> None:
    nobody = [dataclasses.replace(entry, designer="") for entry in entries()]
    feet = [words(page.svg) for page in book(nobody).pages]
    assert all("All patterns" in foot for foot in feet)
    assert not any("· All patterns" in foot for foot in feet)
