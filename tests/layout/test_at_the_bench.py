"""The page to work from: every run where the chart has it, in itself complete."""

from __future__ import annotations

import re
from html.parser import HTMLParser

import pytest

from publisher.knots import load_knots
from publisher.layout import lay_out_bench
from publisher.manuscript import write_manuscript
from publisher.model.plan import Plan
from publisher.plan import make_plan
from tests.support.shop import DATE, SLUGS, demo, installed

EDITION = "at-the-bench"


def bench_page(slug: str) -> tuple[Plan, str]:
    pattern = demo(slug)
    plan = make_plan(pattern)
    knots, templates = load_knots({}), installed()
    book = write_manuscript(pattern, plan, knots, templates, EDITION, "a4", date=DATE)
    return plan, lay_out_bench(book, templates)


class Rows(HTMLParser):
    """The rows and runs of a page, with their data and words."""

    def __init__(self) -> None:
        super().__init__()
        self.rows: list[tuple[dict[str, str], list[tuple[dict[str, str], list[str]]]]] = []
        self.ids: list[str] = []
        self.links: list[str] = []
        self._words: list[str] | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        data = {name: value or "" for name, value in attrs}
        self.ids += [data["id"]] if "id" in data else []
        self.links += [data[name] for name in ("href", "src") if name in data]
        if tag == "li" and "data-top" in data:
            self.rows.append((data, []))
        elif tag == "li" and "data-left" in data:
            self._words = []
            self.rows[-1][1].append((data, self._words))

    def handle_data(self, data: str) -> None:
        if self._words is not None and data.strip():
            self._words.append(" ".join(data.split()))

    def handle_endtag(self, tag: str) -> None:
        if tag in ("ol", "main"):
            self._words = None


def read(page: str) -> Rows:
    rows = Rows()
    rows.feed(page)
    return rows


@pytest.mark.parametrize("slug", SLUGS)
def test_every_row_and_run_of_the_plan_is_there(slug: str) -> None:
    plan, page = bench_page(slug)
    found = read(page).rows
    planned = [row for chart in plan.charts for row in chart.row_list]
    assert len(found) == len(planned)
    names = {colour.letter: colour.name for colour in plan.colours}
    for row, (data, runs) in zip(planned, found, strict=True):
        assert data["data-start"] == row.start
        told = [tuple(words[:3]) for _, words in runs]
        assert told == [(str(run.knots), run.colour, names[run.colour]) for run in row.runs]


@pytest.mark.parametrize("slug", SLUGS)
def test_the_run_in_hand_is_marked_where_the_chart_has_it(slug: str) -> None:
    """Cells are as wide as the mark of a run divided by its knots, side by side from the left."""
    plan, page = bench_page(slug)
    found = iter(read(page).rows)
    for chart in plan.charts:
        ratio = chart.cell.width_mm / chart.cell.height_mm
        for row in chart.row_list:
            data, runs = next(found)
            height = float(data["data-height"])
            marks = sorted((float(one["data-left"]), float(one["data-width"])) for one, _ in runs)
            lefts = sorted((min(run.first_cord, run.last_cord), run.knots) for run in row.runs)
            for (left, width), (cord, knots) in zip(marks, lefts, strict=True):
                assert width / knots == pytest.approx(height * ratio, rel=2e-3)
                assert left - marks[0][0] == pytest.approx((cord - 1) * height * ratio, abs=0.02)


def test_every_note_is_told_at_a_run_that_has_its_cord() -> None:
    plan, page = bench_page("kingfisher-over-reeds")
    told = [
        int(cord)
        for _, runs in read(page).rows
        for _, words in runs
        for cord in re.findall(r"at cord (\d+):", " ".join(words))
    ]
    assert len(told) > 50
    for (_, runs), row in zip(read(page).rows, plan.charts[0].row_list, strict=True):
        for (_, words), run in zip(runs, row.runs, strict=True):
            first, last = sorted((run.first_cord, run.last_cord))
            cords = [int(cord) for cord in re.findall(r"at cord (\d+):", " ".join(words))]
            assert all(first <= cord <= last for cord in cords)


@pytest.mark.parametrize("slug", SLUGS)
def test_what_can_hurt_is_read_before_row_1(slug: str) -> None:
    plan, page = bench_page(slug)
    heads = [page.index(words) for words in ("What can hurt", "Flames and heat", 'id="work"')]
    assert heads == sorted(heads) and heads[-1] < page.index("data-top=")
    assert page.count("What can hurt") == 1 and 'href="#work"' in page
    assert len(plan.cautions) == page[: heads[-1]].split("What can hurt")[1].count("<li>")


@pytest.mark.parametrize("slug", [*SLUGS, "lock-keepers-key-cord"])
def test_the_page_needs_nothing_from_elsewhere(slug: str) -> None:
    """No address outside of it, ids that are there once, links that lead somewhere."""
    _, page = bench_page(slug)
    found = read(page)
    assert not re.search(r"""(src|href)=["'](https?:)?//""", page)
    assert len(found.ids) == len(set(found.ids))
    inside = [link[1:] for link in found.links if link.startswith("#")]
    assert inside or not found.rows
    assert set(inside) <= set(found.ids)
    assert "default-src 'none'" in page
