"""The store: what was made is found again by all that it was made from, whole, or made anew."""

from __future__ import annotations

import os
import pickle
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from publisher.model.figure import Figure
from publisher.store import NO_STORE, Memory, Store, pack, store, unpack
from publisher.store.packs import from_bytes, to_bytes
from tests.support.keeping import Trap
from tests.support.shop import demo_plan

FIGURES = (Figure("<g/>", 1.0, 2.0, "a cord"), Figure("<g />", 3.0, 4.5))
PACKED = pack({"a": to_bytes(FIGURES), "b": to_bytes(Figure("", 0.0, 0.0))}, "program")


class Maker:
    """It makes figures, and notes which."""

    def __init__(self) -> None:
        self.made: list[int] = []

    def __call__(self, number: int) -> Callable[[], Figure]:
        def make() -> Figure:
            self.made.append(number)
            return Figure("x" * number, 1.0, 1.0)

        return make


def test_a_value_is_made_once_in_a_process() -> None:
    memory, maker = Memory(), Maker()
    for target in (Store(memory), Store(memory)):
        assert target.get(("figure", 3), maker(3), Figure.weight) == Figure("xxx", 1.0, 1.0)
    assert maker.made == [3]
    assert Store(memory).get(("figure", 4), maker(4), Figure.weight).svg == "xxxx"
    assert maker.made == [3, 4]


def test_a_later_run_finds_what_a_target_used() -> None:
    maker = Maker()
    first = Store(Memory("program"))
    value = first.get(("figure", 3), maker(3), Figure.weight)
    packed = first.collect()
    again = Store(Memory("program"), packed)
    assert again.get(("figure", 3), maker(3), Figure.weight) == value
    assert maker.made == [3]
    assert again.collect() == b"", "nothing new is to be kept"


def test_what_a_target_no_longer_uses_is_not_kept() -> None:
    maker = Maker()
    first = Store(Memory("program"))
    for number in (3, 4):
        first.get(("figure", number), maker(number), Figure.weight)
    second = Store(Memory("program"), first.collect())
    second.get(("figure", 4), maker(4), Figure.weight)
    third = Store(Memory("program"), second.collect())
    for number in (3, 4):
        third.get(("figure", number), maker(number), Figure.weight)
    assert maker.made == [3, 4, 3]


def test_what_another_program_made_is_made_anew() -> None:
    maker = Maker()
    first = Store(Memory("program"))
    first.get(("figure", 3), maker(3), Figure.weight)
    Store(Memory("other"), first.collect()).get(("figure", 3), maker(3), Figure.weight)
    assert maker.made == [3, 3]


def test_what_all_targets_share_is_collected_apart() -> None:
    maker = Maker()
    first = Store(Memory("program"))
    first.get(("knot", 3), maker(3), Figure.weight, shared=True)
    assert first.collect() == b""
    shared = first.collect_shared()
    assert len(shared) == 1
    second = Store(Memory("program", shared))
    second.get(("knot", 3), maker(3), Figure.weight, shared=True)
    assert maker.made == [3] and second.collect_shared() == {}


def test_no_store_makes_everything_anew() -> None:
    maker = Maker()
    for _ in range(2):
        NO_STORE.get(("figure", 3), maker(3), Figure.weight)
    assert maker.made == [3, 3]
    assert NO_STORE.collect() == b"" and NO_STORE.collect_shared() == {}


def test_no_more_is_held_or_collected_than_there_is_room_for(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(store, "_MOST", 300)
    memory, maker = Memory(), Maker()
    for number in (100, 101, 102, 103):
        Store(memory).get(("figure", number), maker(number), Figure.weight)
    Store(memory).get(("figure", 103), maker(103), Figure.weight)
    assert maker.made == [100, 101, 102, 103], "what was made last is at hand"
    target = Store(Memory())
    for number in (100, 101, 102, 90):
        target.get(("figure", number), maker(number), Figure.weight)
    assert len(unpack(target.collect(), "")) == 3, "the first that there is room for"
    alone = Store(Memory())
    assert alone.get(("figure", 500), maker(500), Figure.weight).weight() == 500
    assert alone.collect() == b""


def test_threads_find_what_is_right() -> None:
    memory = Memory()

    def work(number: int) -> str:
        found = Store(memory).get(("figure", number % 7), Maker()(number % 7), Figure.weight)
        return found.svg

    with ThreadPoolExecutor(8) as threads:
        assert list(threads.map(work, range(500))) == ["x" * (number % 7) for number in range(500)]


def test_a_plan_comes_back_equal() -> None:
    plan = demo_plan("tide-lines")
    assert plan.charts[0].digest == demo_plan("tide-lines").charts[0].digest
    again = from_bytes(to_bytes(plan))
    assert again == plan and again.charts[0].digest == plan.charts[0].digest


@settings(max_examples=300)
@given(st.data())
def test_a_changed_or_cut_off_pack_is_refused(data: st.DataObject) -> None:
    packed = bytearray(PACKED)
    where = data.draw(st.integers(0, len(packed) - 1))
    if data.draw(st.booleans()):
        del packed[where:]
    else:
        packed[where] ^= data.draw(st.integers(1, 255))
    assert unpack(bytes(packed), "program") == {}


@pytest.mark.parametrize("thing", [Trap(), print, os.system, Path("x"), (Trap(),), {"a": print}])
def test_nothing_is_taken_but_values_of_ours(
    thing: object, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Even in bytes whose digest is right, as a stranger could write them."""
    monkeypatch.chdir(tmp_path)
    maker = Maker()
    told = ("figure", 3)
    target = Store(Memory("program"))
    target.get(told, maker(3), Figure.weight)
    (key,) = unpack(target.collect(), "program")
    strange = pack({key: pickle.dumps(thing)}, "program")
    assert Store(Memory("program"), strange).get(told, maker(3), Figure.weight).svg == "xxx"
    assert maker.made == [3, 3]
    assert list(tmp_path.iterdir()) == []
