"""Every number of the format has a least and a most, and a pattern of either is published."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

import publisher.source
from publisher import make_plan, publish, read_pattern
from publisher.plan.as_json import plan_as_json
from publisher.source.format.assembly import AssemblyTable, TargetTable
from publisher.source.format.parts import CarryTable, FringeTable, MountTable
from publisher.source.format.pieces import ChartTable
from publisher.source.format.publish import PUBLISHED
from publisher.source.format.steps import BarTable, PartCordTable, StepsTable, StepTable
from publisher.source.format.yarns import YarnTable
from publisher.tables.schema import rules

PACKAGE = Path(publisher.source.__file__).parent


def numbers(node: Any, name: str = "") -> Any:
    """Every number of a JSON Schema, with the key that it stands under."""
    if isinstance(node, dict):
        if node.get("type") in ("number", "integer"):
            yield name, node
        for key, inner in node.items():
            yield from numbers(inner, key if isinstance(inner, dict) else name)
    elif isinstance(node, list):
        for inner in node:
            yield from numbers(inner, name)


@pytest.mark.parametrize("name", PUBLISHED)
def test_every_number_has_a_least_and_a_most(name: str) -> None:
    found = list(numbers(json.loads((PACKAGE / name).read_text(encoding="utf-8"))))
    assert len(found) > 10
    for key, number in found:
        assert {"minimum", "maximum"} <= set(number), key
        least = number["minimum"]
        assert least <= 0 or least >= 0.01, f"{key}: nothing that is measured is smaller"


def bound(table: type, key: str, end: str) -> str:
    """The least (`ge`) or the most (`le`) that a key takes."""
    schema: Any = rules(table)[key].schema
    return f"{key} = {schema[end]}"


def pattern_of_bounds(end: str) -> str:
    """A chart and a part in which every number that can be is at one end of its range."""

    def at(table: type, *keys: str) -> str:
        return "\n".join(bound(table, key, end) for key in keys)

    def inside(table: type, *keys: str) -> str:
        return ", ".join(bound(table, key, end) for key in keys)

    mass, ball = ("tex", "ball_grams") if end == "ge" else ("grams_per_metre", "ball_metres")
    swatch = {  # of the thinnest yarn, and as large as can be of the thickest
        "ge": "columns = 1, width_mm = 0.4, rows = 1, height_mm = 0.3, yarn_mm_per_knot = 2",
        "le": "columns = 48, width_mm = 10_000, rows = 66, height_mm = 10_000, "
        "yarn_mm_per_knot = 1200",
    }[end]
    return f"""
format = 1
title = "At the end of every range"
version = "1.0"
currency = "GBP"
[yarns.y]
name = "yarn"
{at(YarnTable, "diameter_mm", mass, ball, "price")}
[colours.N]
name = "navy"
srgb = "#000011"
yarn = "y"
[colours.W]
name = "white"
srgb = "#ffffff"
yarn = "y"
[[pieces]]
id = "panel"
{at(ChartTable, "working_length_mm", "tail_mm", "seconds_per_knot", "allowance_percent")}
carry = {{ {inside(CarryTable, "columns", "rows")} }}
mount = {{ {inside(MountTable, "diameter_mm")} }}
fringe = {{ shape = "arch", {inside(FringeTable, "longest_mm", "shortest_mm")} }}
gauge = {{ {swatch} }}
chart = \"\"\"
NNWNNN
NWWWNN
NNWNNN
\"\"\"
[[pieces]]
id = "tassel"
kind = "steps"
make = 2
mount = {{ on = "ring", {inside(BarTable, "diameter_mm")} }}
{at(StepsTable, "tail_mm", "seconds_per_knot", "allowance_percent")}
cords = [{{ colour = "N", lay = "single", {inside(PartCordTable, "count")} }},
    {{ colour = "W", lay = "single", count = 3 }}]
steps = [
    {{ tie = "square-knot", on = [1, 2, 3, 4], {inside(StepTable, "times")} }},
    {{ {inside(StepTable, "gap_mm")} }},
    {{ wrap = [1, 2, 3, 4], {inside(StepTable, "turns")}, colour = "W" }},
    {{ repeat = 2, steps = [{{ cross = [1, 2] }}] }},
    {{ {inside(StepTable, "trim_mm")} }},
]
[[assembly]]
do = "sew"
piece = "tassel"
count = 2
{at(AssemblyTable, "turn_degrees")}
at = {{ piece = "panel", {bound(TargetTable, "row", "ge")}, cord = 6 }}
"""


@pytest.mark.parametrize("end", ["ge", "le"], ids=["least", "most"])
def test_a_pattern_at_the_end_of_every_range_is_published(end: str, tmp_path: Path) -> None:
    text = pattern_of_bounds(end).replace("count = 19", "count = 16")  # with three of another
    path = tmp_path / "bounds.toml"
    path.write_text(text, encoding="utf-8")
    pattern = read_pattern(path)
    plan = make_plan(pattern)

    def finite(node: Any) -> bool:
        if isinstance(node, dict):
            return all(map(finite, node.values()))
        if isinstance(node, list):
            return all(map(finite, node))
        return not isinstance(node, float) or math.isfinite(node)

    assert finite(plan_as_json(plan))
    assert publish(pattern, plan).startswith(b"%PDF")
