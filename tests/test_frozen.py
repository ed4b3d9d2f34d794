"""What the house's values promise: they are frozen dataclasses in all that can be asked of them."""

from __future__ import annotations

import copy
import pickle
import subprocess
import sys
from dataclasses import FrozenInstanceError, asdict, dataclass, field, fields, is_dataclass, replace
from functools import cached_property

import pytest

from publisher.frozen import frozen


@frozen
class Cord:
    """A cord."""

    name: str
    length_mm: float = 100.0
    knots: list[str] = field(default_factory=list)
    serial: int = field(default=0, compare=False)


@dataclass(frozen=True, slots=True)
class Model:
    """The same, by the standard decorator."""

    name: str
    length_mm: float = 100.0
    knots: list[str] = field(default_factory=list)
    serial: int = field(default=0, compare=False)


@frozen(order=True)
class Row:
    """A value that can be sorted."""

    number: int
    side: str = ""


@frozen(kw_only=True)
class Named:
    """A value whose fields are named when it is made."""

    colour: str = ""
    yarn: str


@frozen(eq=False)
class Single:
    """A value that is equal to itself only."""

    name: str


@frozen(slots=False)
class Lazy:
    """A value that computes something once."""

    side: float

    @cached_property
    def area(self) -> float:
        return self.side**2


@frozen
class Nothing:
    """A value without fields."""


@frozen
class Dyed(Cord):
    """A value built on another."""

    shade: str = ""


def test_fields_are_given_in_order_by_name_or_left_out() -> None:
    cord = Cord("N", knots=["overhand"])
    assert (cord.name, cord.length_mm, cord.knots, cord.serial) == ("N", 100.0, ["overhand"], 0)
    assert Dyed("N", 20.0, shade="navy").shade == "navy"
    assert Cord("A").knots is not Cord("A").knots


@pytest.mark.parametrize("given", [(), ("N", 1.0, [], 0, 5)])
def test_a_call_that_does_not_fit_is_refused(given: tuple[object, ...]) -> None:
    with pytest.raises(TypeError, match="__init__"):
        Cord(*given)  # type: ignore[arg-type]


def test_fields_by_name_alone() -> None:
    assert Named(yarn="cotton-3").colour == ""
    with pytest.raises(TypeError):
        Named("N", "cotton-3")  # type: ignore[misc]


@pytest.mark.parametrize("one", [Cord("N"), Lazy(2.0)])
def test_nothing_can_be_changed_added_or_taken_away(one: object) -> None:
    first = fields(one)[0].name  # type: ignore[arg-type]
    for change in (
        lambda: setattr(one, first, "W"),
        lambda: setattr(one, "other", 1),
        lambda: delattr(one, first),
    ):
        with pytest.raises(FrozenInstanceError):
            change()


def test_it_is_told_and_taken_apart_like_a_standard_dataclass() -> None:
    cord, model = Cord("N", 20.0, ["a"]), Model("N", 20.0, ["a"])
    assert repr(cord) == repr(model).replace("Model", "Cord")
    assert asdict(cord) == asdict(model)
    assert is_dataclass(Cord)
    assert [one.name for one in fields(Cord)] == [one.name for one in fields(Model)]
    assert Cord.__match_args__ == Model.__match_args__  # type: ignore[attr-defined]
    assert not hasattr(cord, "__dict__")


def test_values_are_equal_by_what_counts_in_them() -> None:
    assert Cord("N", serial=1) == Cord("N", serial=2)
    assert Cord("N") != Cord("W")
    assert Cord("N") != Dyed("N")
    assert Nothing() == Nothing()
    assert Single("a") != Single("a")
    assert hash(Row(1, "left")) == hash((1, "left"))
    assert len({Row(1), Row(1), Row(2)}) == 2
    assert Lazy(2.0) == Lazy(2.0)


def test_values_with_an_order_are_sorted_field_by_field() -> None:
    assert sorted([Row(2), Row(1, "right"), Row(1, "left")]) == [
        Row(1, "left"),
        Row(1, "right"),
        Row(2),
    ]
    assert Row(1) <= Row(1) >= Row(1)
    with pytest.raises(TypeError):
        _ = Row(1) < Nothing()  # type: ignore[operator]


def test_a_copy_can_differ() -> None:
    assert replace(Cord("N", 20.0), name="W") == Cord("W", 20.0)
    assert replace(Dyed("N"), shade="navy") == Dyed("N", shade="navy")


@pytest.mark.parametrize(
    "one", [Cord("N", 20.0, ["a"], 3), Dyed("N", shade="navy"), Lazy(3.0), Row(1), Nothing()]
)
def test_a_value_survives_pickle_and_copying(one: object) -> None:
    for made in (pickle.loads(pickle.dumps(one)), copy.copy(one), copy.deepcopy(one)):
        assert made == one
        assert repr(made) == repr(one)


def test_what_is_computed_once_is_kept() -> None:
    lazy = Lazy(3.0)
    assert lazy.area == 9.0
    assert "area" in vars(lazy)


def test_defining_a_value_compiles_nothing() -> None:
    code = (
        "import builtins, publisher.frozen as house\n"
        "compiled = []\n"
        "real = builtins.exec\n"
        "builtins.exec = lambda *given: (compiled.append(given[0]), real(*given))\n"
        "Row = house.frozen(type('Row', (), {'__annotations__': {'number': 'int'}}))\n"
        "assert not compiled\n"
        "assert Row(1).number == Row(2).number - 1\n"
        "assert len(compiled) == 1\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
