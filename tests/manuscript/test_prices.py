"""Prices are printed only where a writer asks for them, and then with the month they are of."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date

import pypdfium2
import pytest

from publisher.layout import lay_out_text
from publisher.model.pattern import Pattern
from publisher.press import print_book
from tests.support.shop import book, demo, manuscript

COTTON, THICK = "Lockside soft cotton, 3 mm", "Lockside soft cotton, 4 mm"
PRICES = {COTTON: 7.2, THICK: 8.9}


def priced(**changes: float | None) -> Pattern:
    """A demo pattern of two yarns, with prices of September 2026. `changes`: to the second yarn."""
    pattern = demo("lantern-window")
    *others, last = pattern.colours
    thick = replace(last.yarn, key="cotton-4", name=THICK, price=8.9)
    colours = (*others, replace(last, yarn=replace(thick, **changes)))
    return replace(pattern, colours=colours, prices_as_of=date(2026, 9, 1))


def printed(pattern: Pattern, edition: str) -> str:
    document = pypdfium2.PdfDocument(print_book(book(pattern, edition)))
    text = " ".join(page.get_textpage().get_text_range() for page in document)
    document.close()
    return " ".join(text.split())


@pytest.mark.parametrize("edition", ["booklet", "handout", "large-print", "left-handed"])
def test_no_price_is_printed_unless_it_is_asked_for(edition: str) -> None:
    pattern = replace(priced(), prices_as_of=None)
    text = printed(pattern, edition)
    assert "What it costs" not in text
    assert not re.search(r"7\.20|8\.90|GBP", text)


@pytest.mark.parametrize("edition", ["booklet", "handout"])
def test_each_yarn_is_priced_by_the_balls_that_the_list_above_asks_for(edition: str) -> None:
    text = printed(priced(), edition)
    shopping, _, costs = text.partition("What it costs")
    assert "prices of September 2026; today's may differ" in text
    for name, price in PRICES.items():
        found = re.search(rf"{name} (\d+\.\d\d) (\d+) (\d+\.\d\d)", costs)
        assert found, costs
        each, balls, cost = found.groups()
        assert float(each) == price
        assert float(cost) == pytest.approx(price * int(balls))
        assert int(balls) >= 1
    total = re.search(r"Together (\d+) (\d+\.\d\d)", costs)
    assert total
    parts = re.findall(r"mm \d+\.\d\d (\d+) (\d+\.\d\d)", costs)
    assert int(total[1]) == sum(int(balls) for balls, _ in parts)
    assert float(total[2]) == pytest.approx(sum(float(cost) for _, cost in parts))
    bought = re.findall(r"Together [\d., ]*?(\d+) [^\d]*$", shopping)
    assert bought == [total[1]], "as many balls as are to be bought"


def test_a_class_pays_for_what_the_class_buys() -> None:
    pattern = priced()
    alone, class_ = (_cost_of_all(printed(pattern, name)) for name in ("booklet", "handout"))
    assert alone < class_ <= 12 * alone, "balls are opened for all of them"


def _cost_of_all(text: str) -> float:
    costs = text.partition("What it costs")[2]
    found = re.search(r"Together \d+ (\d+\.\d\d)", costs)
    assert found
    return float(found[1])


def test_what_has_no_price_is_left_out_and_no_total_claims_to_be_all_of_it() -> None:
    for changes in ({"price": None}, {"ball_metres": None, "ball_grams": None}):
        costs = printed(priced(**changes), "booklet").partition("What it costs")[2]
        assert COTTON in costs
        assert not re.search(r"Together \d+ \d+\.\d\d", costs)
    pattern = priced(price=None)
    nobody = tuple(replace(one, yarn=replace(one.yarn, price=None)) for one in pattern.colours)
    assert "What it costs" not in printed(replace(pattern, colours=nobody), "booklet")


def test_they_are_read_out_where_there_are_no_pages() -> None:
    text = " ".join(lay_out_text(manuscript(priced(), "plain-text")).split())
    assert "What it costs" in text
    assert "prices of September 2026" in text
    assert "A ball: 7.20 GBP" in text
