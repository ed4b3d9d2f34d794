"""A kept plan comes back as it was, or not at all; and it can't run anything."""

from __future__ import annotations

import os
import pickle
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.catalogue.build.kept import plan_from_bytes, plan_to_bytes
from publisher.model.colour import Colour
from publisher.model.pattern import Yarn, YarnColour
from publisher.model.plan import CutLine, Plan
from tests.support.keeping import Trap, sealed

PLAN = Plan(
    slug="tide",
    title="Tide",
    version="1.0",
    colours=(YarnColour("T", "teal", Colour(1, 2, 3), Yarn("c", "cotton", 3.0, 4.5)),),
    pieces=(),
    cutting_list=(CutLine("panel", "cords", "T", 4, 1200.0),),
    shopping=(),
    finished_mass_g=12.5,
    masses_g={},
    cautions=("cutting-tools",),
    knot_names=("larks-head",),
    advice=(),
)
KEPT = plan_to_bytes(PLAN)


def test_plan_comes_back_equal() -> None:
    assert plan_from_bytes(plan_to_bytes(PLAN)) == PLAN
    assert plan_from_bytes(sealed(KEPT, pickle.dumps(PLAN, 5))) == PLAN


@settings(max_examples=200, deadline=None)
@given(st.data())
def test_a_changed_or_cut_off_plan_is_refused(data: st.DataObject) -> None:
    kept = bytearray(plan_to_bytes(PLAN))
    where = data.draw(st.integers(0, len(kept) - 1))
    if data.draw(st.booleans()):
        del kept[where:]
    else:
        kept[where] ^= data.draw(st.integers(1, 255))
    assert plan_from_bytes(bytes(kept)) is None


@pytest.mark.parametrize("thing", [Trap(), print, os.system, Path("x"), (PLAN,), None, []])
def test_nothing_but_a_plan_is_taken(
    thing: object, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Even in bytes whose digest is right, as a stranger could write them."""
    monkeypatch.chdir(tmp_path)
    assert plan_from_bytes(sealed(KEPT, pickle.dumps(thing, 5))) is None
    inside = pickle.dumps(replace(PLAN, knot_names=(thing,)), 5)  # type: ignore[arg-type]
    if not isinstance(thing, tuple | list | None):
        assert plan_from_bytes(sealed(KEPT, inside)) is None
    assert list(tmp_path.iterdir()) == []
