"""The plan file: the keys that users' scripts rely on, and numbers that are the plan's own."""

from __future__ import annotations

import json

from publisher.model.pattern import CarryLimit
from publisher.plan import make_plan, plan_as_json
from tests.support.drivers import outputs
from tests.support.grids import plan_of
from tests.support.shop import SLUGS, demo

KEYS = {
    "": "slug title version pieces cutting_list shopping cautions knot_names",
    "pieces": "id kind make columns rows size_mm knots row_list yarns ends end_pairs single_ends",
    "row_list": "row from runs notes",
    "runs": "colour knots first_cord last_cord",
    "yarns": "id colour knots length_mm stretches carries",
    "stretches": "row first_cord last_cord knots",
    "carries": "from to length_mm",
    "ends": "id yarn kind row cord",
    "cutting_list": "piece for colour count length_mm",
    "shopping": "colour yarn length_m mass_g balls",
}


def check_keys(name: str, value: object) -> None:
    if isinstance(value, list):
        for item in value:
            check_keys(name, item)
    elif isinstance(value, dict):
        assert set(KEYS.get(name, "").split()) <= set(value)
        for key, inner in value.items():
            check_keys(key, inner)


def test_the_stable_keys_are_there() -> None:
    plan = plan_of("ABBA", "BAAB", carry=CarryLimit(3, 1))
    made = json.loads(json.dumps(plan_as_json(plan)))
    check_keys("", made)
    (piece,) = made["pieces"]
    assert piece["kind"] == "chart"
    assert set(piece["size_mm"]) == {"width", "height"}
    (first, *_) = piece["yarns"]
    assert set(first["carries"][0]["from"]) == set(first["carries"][0]["to"]) == {"row", "cord"}
    assert {line["for"] for line in made["cutting_list"]} >= {"cords", "working yarn"}
    assert {end["kind"] for end in piece["ends"]} <= {
        "start",
        "finish",
        "join-finish",
        "join-start",
    }
    assert piece["row_list"][0]["notes"][0]["cut_length_mm"] == first["cut_lengths_mm"][0]
    assert piece["full_length_mm"] == 3000
    assert piece["row_list"][1]["from"] == "right"
    assert piece["row_list"][1]["runs"][1] == {
        "colour": "A",
        "knots": 2,
        "first_cord": 3,
        "last_cord": 2,
    }


def test_every_centimetre_of_a_plan_file_is_accounted_for() -> None:
    """Cut = knots + carries + tails + left over, from the file's own numbers."""
    (piece,) = plan_as_json(plan_of("AAAAAABBAAAAAA", working_length_mm=730.0))["pieces"]
    for yarn in piece["yarns"]:
        knots = yarn["knots"] * piece["yarn_mm_per_knot"][yarn["colour"]]
        carries = sum(carry["length_mm"] for carry in yarn["carries"])
        tails = 2 * piece["tail_mm"] * (len(yarn["joins"]) + 1)
        assert yarn["length_mm"] == knots + carries + tails
        assert sum(yarn["cut_lengths_mm"]) == yarn["length_mm"] + yarn["left_over_mm"]


def test_a_plan_is_the_same_to_the_byte_in_every_process() -> None:
    code = (
        "import json; from tests.support.shop import demo;"
        "from publisher.plan import make_plan, plan_as_json;"
        "print(json.dumps(plan_as_json(make_plan(demo('kingfisher-over-reeds')))))"
    )
    assert len(outputs(code)) == 1


def test_the_numbers_of_a_plan_file_agree_with_each_other() -> None:
    """Knots by runs, by yarns and by colour; ends in pairs or single; m from the cutting list."""
    for slug in SLUGS:
        made = plan_as_json(make_plan(demo(slug)))
        for piece in made["pieces"]:
            if piece["kind"] != "chart":
                continue
            runs = [run for row in piece["row_list"] for run in row["runs"]]
            for letter, knots in piece["knots"].items():
                assert sum(run["knots"] for run in runs if run["colour"] == letter) == knots
                yarns = [yarn for yarn in piece["yarns"] if yarn["colour"] == letter]
                assert sum(yarn["knots"] for yarn in yarns) == knots
                stretches = [stretch for yarn in yarns for stretch in yarn["stretches"]]
                assert sum(stretch["knots"] for stretch in stretches) == knots
            assert all(
                sum(run["knots"] for run in row["runs"]) == piece["columns"]
                for row in piece["row_list"]
            )
            ends = [name for pair in piece["end_pairs"] for name in pair] + piece["single_ends"]
            assert sorted(ends) == sorted(end["id"] for end in piece["ends"])
        for line in made["shopping"]:
            lengths = [
                cut["count"] * cut["length_mm"]
                for cut in made["cutting_list"]
                if cut["colour"] == line["colour"]
            ]
            assert sum(lengths) / 1000 <= line["length_m"] < sum(lengths) / 1000 + 1
