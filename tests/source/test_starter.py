"""The starter pattern: it reads as it is, with a house or without one, and explains itself."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from publisher.model.pattern import ChartPiece, Pattern
from publisher.source import read_pattern, starter_pattern


def read(folder: Path, slug: str, text: str | None = None) -> Pattern:
    path = folder / f"{slug}.toml"
    path.write_text(starter_pattern(slug) if text is None else text, encoding="utf-8")
    return read_pattern(path)


def piece(pattern: Pattern) -> ChartPiece:
    (only,) = pattern.pieces
    assert isinstance(only, ChartPiece)
    return only


def test_it_reads_with_no_house_beside_it(tmp_path: Path) -> None:
    pattern = read(tmp_path, "reed-warbler")
    assert pattern.title == "Reed warbler"
    assert (piece(pattern).columns, piece(pattern).rows) == (16, 20)


def test_it_reads_beside_a_house_that_has_other_yarns(tmp_path: Path) -> None:
    house = '[yarns.wool]\nname = "wool"\ndiameter_mm = 2\ntex = 2000\n'
    (tmp_path / "house.toml").write_text(house, encoding="utf-8")
    assert {colour.yarn.key for colour in read(tmp_path, "otter").colours} == {"cotton"}


@pytest.mark.parametrize("slug", ["slug", "title", "2-oaks"])
def test_every_name_that_a_file_may_have_makes_a_good_title(tmp_path: Path, slug: str) -> None:
    assert read(tmp_path, slug).title == slug.replace("-", " ").capitalize()
    assert f"publisher build {slug}\n" in starter_pattern(slug)


def test_its_chart_uses_every_colour_that_it_explains(tmp_path: Path) -> None:
    pattern = read(tmp_path, "otter")
    assert set("".join(piece(pattern).cells)) == {colour.letter for colour in pattern.colours}


def test_the_lines_it_offers_as_notes_work_when_they_are_used(tmp_path: Path) -> None:
    text = starter_pattern("otter")
    for key in ("designer", "gauge", "currency", "prices", "prices_as_of", "price"):
        assert f"# {key} = " in text
        text = text.replace(f"# {key} = ", f"{key} = ")
    pattern = read(tmp_path, "otter", text)
    assert (pattern.currency, pattern.prices_as_of) == ("GBP", date(2026, 9, 1))
    assert pattern.colours[0].yarn.price == 6.5
    assert pattern.designer == "Your name"
    assert piece(pattern).gauge.yarn_mm_per_knot == 66


def test_its_lines_fit_an_editor_window() -> None:
    assert max(map(len, starter_pattern("otter").splitlines())) <= 100
