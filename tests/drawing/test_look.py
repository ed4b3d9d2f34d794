"""A look with which no book could be laid out is told by its key, not by what goes wrong later."""

from __future__ import annotations

import copy
import re
import tomllib
from pathlib import Path
from typing import Any

import pytest

from publisher.drawing.look_reader import read_look_tables
from publisher.drawing.look_rules import NEEDED, LookError

TABLES = tomllib.loads((Path(__file__).parents[2] / "templates/look.toml").read_text("utf-8"))


def changed(key: str, value: object) -> dict[str, Any]:
    tables = copy.deepcopy(TABLES)
    *above, last = key.split(".")
    table = tables
    for name in above:
        table = table[name]
    table[last] = value
    return tables


@pytest.mark.parametrize(
    ("key", "value", "told"),
    [
        ("papers", 5, "papers.a4 is missing"),
        ("papers.a4.width_mm", 0.0, "margins"),
        ("papers.a4.height_mm", -297.0, "papers.a4.height_mm must be from 0"),
        ("papers.a4.margins.right_mm", 160.0, "margins"),
        ("frame.title_mm", 240.0, "margins"),
        ("frame.title_gap_mm", float("nan"), "frame.title_gap_mm must be from 0"),
        ("frame.column_gap_mm", 100.0, "frame.column_gap_mm"),
        ("frame.cover_facts_mm", 0.0, "frame.cover_facts_mm"),
        ("type.rows.lead_mm", 0, "type.rows.lead_mm"),
        ("type.map-number.size_pt", 0, "type.map-number.size_pt"),
        ("type.body.size_pt", 1e6, "type.body.size_pt must be from 0"),
        ("type.legend.colour", "teal", "type.legend.colour names no colour: 'teal'"),
        ("type.body.face", "sanz", "type.body.face must be one of sans, "),
        ("chart.cell_min_mm", 0.0, "chart.cell_min_mm"),
        ("chart.cell_min_mm", 90.0, "chart.cell_min_mm"),
        ("chart.gutter_mm", float("inf"), "chart.gutter_mm must be from 0"),
        ("chart.key_columns", 0, "chart.key_columns"),
        ("chart.key_map_mm", 500.0, "chart.key_map_mm"),
        ("chart.run_length", "chart-runs", "chart.run_length names no type: 'chart-runs'"),
    ],
)
def test_a_look_that_no_book_could_have_is_refused(key: str, value: object, told: str) -> None:
    with pytest.raises(ValueError) as caught:
        read_look_tables(changed(key, value), "a4")
    assert told in str(caught.value)


def test_numbers_of_places_may_be_left_out_of_a_cover() -> None:
    assert (
        read_look_tables(changed("type.place-number.size_pt", 0), "a4").type["place-number"].size_pt
        == 0
    )


def test_all_that_is_wrong_is_told_at_once() -> None:
    tables = changed("frame.foot_mm", "low")
    tables["colours"]["ink"] = "black"
    del tables["type"]["body"]["size_pt"]
    with pytest.raises(LookError) as caught:
        read_look_tables(tables, "a4")
    assert [fault.key for fault in caught.value.faults] == [
        "colours.ink",
        "type.body.size_pt",
        "frame.foot_mm",
    ]


@pytest.mark.parametrize("table", NEEDED)
def test_a_look_gives_all_that_is_drawn_with(table: str) -> None:
    assert tuple(TABLES[table]) == NEEDED[table]
    for name in NEEDED[table]:
        tables = copy.deepcopy(TABLES)
        del tables[table][name]
        with pytest.raises(LookError, match=re.escape(f"{table}.{name} is missing")):
            read_look_tables(tables, "a4")


def test_a_misspelt_name_is_told_where_it_stands() -> None:
    tables = copy.deepcopy(TABLES)
    tables["colours"]["hiar"] = tables["colours"].pop("hair")
    with pytest.raises(LookError) as caught:
        read_look_tables(tables, "a4")
    (fault,) = caught.value.faults
    assert fault.key == "colours.hiar"
    assert fault.hint == "rename hiar to hair"


def test_a_look_may_give_more_than_is_needed() -> None:
    assert (
        read_look_tables(changed("colours.moss", "#445533"), "a4").colours["moss"].hex == "#445533"
    )
