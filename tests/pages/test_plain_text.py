"""The editions without pages say everything but the pictures, and read well aloud."""

from __future__ import annotations

import re
from collections.abc import Iterator
from html.parser import HTMLParser
from itertools import pairwise

import pytest

from publisher.layout import lay_out_text, lay_out_web
from publisher.manuscript import blocks
from publisher.manuscript.blocks import Block, Manuscript
from publisher.model import units
from publisher.model.plan import ChartPlan
from tests.support.shop import SLUGS, demo, demo_plan, installed, manuscript

EDITION = "plain-text"
VOID = {"meta", "br", "hr", "img", "link", "input"}


@pytest.fixture(scope="module", params=SLUGS)
def slug(request: pytest.FixtureRequest) -> str:
    return str(request.param)


@pytest.fixture(scope="module")
def written(slug: str) -> Manuscript:
    return manuscript(demo(slug), EDITION)


@pytest.fixture(scope="module")
def text(written: Manuscript) -> str:
    """The text as one line a paragraph: what stands on indented lines goes on."""
    return lay_out_text(written)


@pytest.fixture(scope="module")
def page(written: Manuscript) -> str:
    return lay_out_web(written, installed())


def flat(text: str) -> str:
    return " ".join(text.replace("\u00a0", " ").split())


def chart_of(slug: str) -> ChartPlan:
    return demo_plan(slug).charts[0]


def test_every_row_is_told_with_all_its_runs(slug: str, text: str, page: str) -> None:
    for told in (flat(text), flat(words_of(page))):
        for row in chart_of(slug).row_list:
            runs = ", ".join(f"{run.knots} {run.colour}" for run in row.runs)
            assert re.search(rf"Row {row.row}, from the {row.start}:? {re.escape(runs)}\b", told)


def test_every_length_and_weight_of_the_lists_is_told(slug: str, text: str) -> None:
    told = flat(text)
    for cut in demo_plan(slug).cutting_list:
        assert units.centimetres(cut.length_mm, "up") in told
        assert units.inches(cut.length_mm, "up") in told
    for buy in demo_plan(slug).shopping:
        assert units.metres(buy.length_m * 1000) in told
        assert units.grams(buy.mass_g) in told


def test_every_caution_is_told_in_full(written: Manuscript, text: str, page: str) -> None:
    cautions = [block for block in every_block(written) if isinstance(block, blocks.Caution)]
    assert cautions
    for told in (flat(text), flat(words_of(page))):
        for caution in cautions:
            assert caution.heading in told
            for item in caution.items:
                assert flat("".join(span.text for span in item)) in told


def test_what_stands_beside_a_heading_is_told_below_it(
    written: Manuscript, text: str, page: str
) -> None:
    """For which rows a drawing is, how much is spare: no more than that is lost from a page."""
    headings = [block for block in every_block(written) if isinstance(block, blocks.Heading)]
    leads = [(block.text, flat(block.lead_in)) for block in headings if block.lead_in]
    assert len(leads) > 5
    underlined = re.sub(r" -{3,} ", " ", flat(text))
    for told in (underlined, flat(words_of(page))):
        for heading, lead in leads:
            assert f"{heading} {lead}" in told


def test_every_knots_stages_are_told_in_order(written: Manuscript, text: str) -> None:
    told, at = flat(text), 0
    for block in every_block(written):
        if isinstance(block, blocks.Strip):
            for picture in block.pictures:
                words = flat("".join(span.text for span in picture.words if not span.page_of))
                start = words.split("(")[0].strip()
                assert start in told[at:], words
                at = told.index(start, at)


def test_every_pair_of_ends_is_told_by_row_and_cord(slug: str, text: str) -> None:
    chart = chart_of(slug)
    ends = {end.id: end for end in chart.ends}
    told = flat(text)
    for one, other in chart.end_pairs:
        first, second = sorted((ends[one], ends[other]), key=lambda end: (end.row, -end.cord))
        one_way, other_way = (
            f"Tie the end at row {a.row}, cord {a.cord}, to the end at row {b.row}, cord {b.cord}."
            for a, b in ((first, second), (second, first))
        )
        here = f"Tie the two ends at row {first.row}, cord {first.cord}, to each other."
        same = (first.row, first.cord) == (second.row, second.cord)
        assert here in told if same else one_way in told or other_way in told


def test_there_are_no_pages_to_turn_to(text: str, page: str) -> None:
    for told in (text, words_of(page)):
        assert not re.search(r"\bpages? \d", told)
        assert "()" not in told and "( )" not in told and "  ," not in told
        assert "Print at 100 %" not in told, "there is nothing to print to scale"
        for drawn in ("arrow", "square has", "next page", "small number is", "box when"):
            assert drawn not in told, drawn


def test_lines_are_no_longer_than_a_screen(text: str) -> None:
    assert max(map(len, text.splitlines())) <= 72
    assert text.endswith("\n") and not text.endswith("\n\n")
    assert "\u00a0" not in text and "\t" not in text


def test_headings_stand_out_without_type(text: str) -> None:
    lines = text.splitlines()
    ruled = [(one, two) for one, two in pairwise(lines) if re.fullmatch(r"=+|-+", two)]
    assert len(ruled) > 8
    assert all(len(rule) == min(len(title), 72) for title, rule in ruled if len(title) <= 72)


def every_block(book: Manuscript) -> Iterator[Block]:
    waiting: list[Block] = [
        block for section in book.sections for block in (*section.lead, *section.body)
    ]
    while waiting:
        block = waiting.pop(0)
        yield block
        if isinstance(block, blocks.Beside):
            waiting[:0] = [inner for part in block.parts for inner in part]
        elif isinstance(block, blocks.BackMap):
            waiting[:0] = list(block.beside)


# The web page


class Outline(HTMLParser):
    """Checks that tags are closed in the order they are opened, and keeps what is asked for."""

    def __init__(self, page: str) -> None:
        super().__init__(convert_charrefs=True)
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None], tuple[str, ...]]] = []
        self.words: list[str] = []
        self.feed(page)
        self.close()
        assert self.open == [], "tags are left open"

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs), tuple(self.open)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_endtag(self, tag: str) -> None:
        assert self.open and self.open[-1] == tag, (tag, self.open, self.getpos())
        self.open.pop()

    def handle_data(self, data: str) -> None:
        if "style" not in self.open and "title" not in self.open:
            self.words.append(data)


def words_of(page: str) -> str:
    return "".join(Outline(page).words)


def test_the_page_is_well_formed_and_says_its_language(slug: str, page: str) -> None:
    outline = Outline(page)
    assert page.startswith("<!DOCTYPE html>")
    (html,) = [attrs for tag, attrs, _ in outline.tags if tag == "html"]
    assert html["lang"] == "en"
    assert f"<title>{demo(slug).title}</title>" in page
    assert any(attrs.get("charset") == "utf-8" for tag, attrs, _ in outline.tags)
    assert [tag for tag, _, _ in outline.tags].count("main") == 1


def test_headings_begin_with_one_h1_and_skip_none(page: str) -> None:
    levels = [int(tag[1]) for tag, _, _ in Outline(page).tags if re.fullmatch(r"h[1-6]", tag)]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))


def test_every_table_head_says_what_it_heads(page: str) -> None:
    heads = [(attrs, above) for tag, attrs, above in Outline(page).tags if tag == "th"]
    assert heads
    for attrs, above in heads:
        assert attrs["scope"] == ("col" if "thead" in above else "row")


def test_every_link_leads_to_something_and_no_id_comes_twice(page: str) -> None:
    tags = Outline(page).tags
    ids = [attrs["id"] for _, attrs, _ in tags if "id" in attrs]
    assert len(ids) == len(set(ids))
    links = [attrs["href"] for tag, attrs, _ in tags if tag == "a"]
    assert len(links) > 5
    assert all(link and link.startswith("#") and link[1:] in ids for link in links)


def test_the_page_is_complete_in_itself(page: str) -> None:
    """Nothing is fetched, nothing runs: it can be sent, kept and read without a network."""
    tags = Outline(page).tags
    assert not [tag for tag, _, _ in tags if tag in ("script", "link", "img", "iframe")]
    assert not re.search(r"url\(|@import|https?://", page)
