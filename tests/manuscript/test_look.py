"""A look with which no book could be laid out is told by its key, not by what goes wrong later."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from publisher.drawing.look_rules import NEEDED
from publisher.errors import TemplateError
from tests.support.looks import TABLES, look_of


def changed(key: str, value: object) -> dict[str, Any]:
    tables = copy.deepcopy(TABLES)
    *above, last = key.split(".")
    table = tables
    for name in above:
        table = table[name]
    table[last] = value
    return tables


def told(tables: dict[str, Any]) -> list[str]:
    """What is said of the tables, without the places."""
    with pytest.raises(TemplateError) as caught:
        look_of(tables)
    return [f"{problem.message}; {problem.hint}" for problem in caught.value.problems]


@pytest.mark.parametrize(
    ("key", "value", "message"),
    [
        ("papers", 5, "`papers` must be tables; begin each with a line such as [papers.a4]"),
        ("papers", {"letter": TABLES["papers"]["letter"]}, "`papers` has no `a4`; add a line such"),
        ("papers.a4.width_mm", 0.0, "`papers.a4.margins` leave less than 40 mm"),
        ("papers.a4.height_mm", -297.0, "`height_mm` is -297.0, but the least is 0; write it like"),
        ("papers.a4.margins.right_mm", 160.0, "`papers.a4.margins` leave less than 40 mm"),
        ("frame.title_mm", 240.0, "`papers.a4.margins` leave less than 40 mm"),
        ("frame.title_gap_mm", float("nan"), "`title_gap_mm` must be a number, not nan"),
        ("frame.column_gap_mm", 100.0, "`frame.column_gap_mm` is too wide"),
        ("frame.cover_facts_mm", 0.0, "`frame.cover_facts_mm` must be more than 0"),
        ("type.rows.lead_mm", 0, "`type.rows.lead_mm` must be more than 0"),
        ("type.map-number.size_pt", 0, "`type.map-number.size_pt` must be more than 0"),
        ("type.body.size_pt", 1e6, "`size_pt` is 1000000.0, but the most is 10000; write it like"),
        ("type.legend.colour", "teal", '`type.legend.colour` names no colour: "teal"; choose one'),
        ("type.body.face", "sanz", '`type.body.face` names no face: "sanz"; did you mean "sans"?'),
        ("chart.cell_min_mm", 0.0, "`chart.cell_min_mm` must be 1 or more"),
        ("chart.cell_min_mm", 90.0, "`chart.cell_min_mm` must be 1 or more"),
        ("chart.gutter_mm", float("inf"), "`gutter_mm` must be a number, not inf; write it like"),
        ("chart.key_columns", 0, "`chart.key_columns` must be 1 or more"),
        ("chart.key_map_mm", 500.0, "`chart.key_map_mm` must be more than 0"),
        ("chart.run_length", "chart-runs", '`chart.run_length` names no type: "chart-runs"; did'),
        ("colours.ink", "black", '`ink` can\'t be "black"; write # and six signs of 0 to 9 and a'),
        ("mono", "true", "`mono` has quotes round its true; write mono = true"),
        ("frame", 3, "`frame` must be a table, not 3; begin it with [frame]"),
    ],
)
def test_a_look_that_no_book_could_have_is_refused(key: str, value: object, message: str) -> None:
    assert told(changed(key, value))[0].startswith(message)


def test_numbers_of_places_may_be_left_out_of_a_cover() -> None:
    assert look_of(changed("type.place-number.size_pt", 0)).type["place-number"].size_pt == 0


def test_all_that_is_wrong_is_told_at_once() -> None:
    tables = changed("frame.foot_mm", "low")
    tables["colours"]["ink"] = "black"
    del tables["type"]["body"]["size_pt"]
    assert [said.partition(";")[0] for said in told(tables)] == [
        '`ink` can\'t be "black"',
        '`foot_mm` must be a number, not "low"',
        "type body has no `size_pt`",
    ]


def test_what_is_missing_is_told_beside_what_is_wrong() -> None:
    tables = changed("colours.ink", "black")
    del tables["lines"]["hair"]
    assert [said.partition(";")[0] for said in told(tables)] == [
        '`ink` can\'t be "black"',
        "`lines` has no `hair`",
    ]


@pytest.mark.parametrize("table", NEEDED)
def test_a_look_gives_all_that_is_drawn_with(table: str) -> None:
    assert tuple(TABLES[table]) == NEEDED[table]
    for name in NEEDED[table]:
        tables = copy.deepcopy(TABLES)
        del tables[table][name]
        (said,) = told(tables)
        assert said.startswith(f"`{table}` has no `{name}`; add a line such as {name} = ")


def test_a_misspelt_name_is_told_where_it_stands() -> None:
    tables = copy.deepcopy(TABLES)
    tables["colours"]["hiar"] = tables["colours"].pop("hair")
    assert told(tables) == ["nothing here is called `hiar`; did you mean `hair`?"]


def test_a_look_may_give_more_than_is_needed() -> None:
    assert look_of(changed("colours.moss", "#445533")).colours["moss"].hex == "#445533"
