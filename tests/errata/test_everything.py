"""Whatever differs between two contents is told, in words that there are."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any

import pytest

from publisher.errata.compare import content_of, find_errata
from publisher.errata.compare.changes import Errata
from publisher.errata.compare.content import ReleaseContent
from publisher.errata.sheet import changes_in_brief, write_errata
from publisher.errata.sheet.context import EarlierRelease
from publisher.knots import load_knots
from publisher.layout import lay_out_text
from publisher.manuscript.words import read_words
from tests.support.shop import demo, demo_plan, installed

SLUG = "kingfisher-over-reeds"
NOW = content_of(demo(SLUG), demo_plan(SLUG), "Knot it.")
OTHERS = {"left": "right", "right": "left", "zigzag": "one-way", "cotton": "wool"}
KINDS = {"lay": "single", "kind": "glue", "deed": "glue", "hold": "top", "purpose": "cords"}


def others(value: Any, name: str = "") -> Iterator[tuple[str, Any]]:
    """The value with one thing in it other than it was, for every thing that there is."""
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        for field in dataclasses.fields(value):
            if field.name in ("id", "slug", "key"):
                continue
            for where, other in others(getattr(value, field.name), field.name):
                yield where, replace(value, **{field.name: other})
    elif isinstance(value, Mapping):
        for key, one in list(value.items())[:3]:
            for where, other in others(one, name):
                yield f"{where}.{key}", {**value, key: other}
        yield f"{name} less", dict(list(value.items())[1:])
    elif isinstance(value, tuple) and name not in ("row", "cord"):
        if value:
            for where, other in others(value[0], name):
                yield f"{name}[0] {where}", (other, *value[1:])
            if name not in ("notes", "yarns") and not isinstance(value[0], int):
                yield f"{name} less", value[1:]
    elif isinstance(value, str):
        yield name, OTHERS.get(value) or KINDS.get(name) or _other_text(value, name)
    elif isinstance(value, bool):
        yield name, not value
    elif isinstance(value, int | float):  # sizes are printed in half centimetres
        yield name, value + (10 if name in ("width_mm", "height_mm") else 1)


def _other_text(value: str, name: str) -> str:
    if name == "knot" and value:
        return "overhand"
    if name in ("cells", "letter", "colour", "cord_colour"):
        return {"M": "N", "N": "G"}.get(value[:1], "M") + value[1:]
    if name == "srgb":
        return "#123456"
    return f"{value} x"


CASES = [(where, other) for where, other in others(NOW) if other != NOW]


def test_there_are_cases_of_every_field() -> None:
    assert len(CASES) > 100
    assert len({where.split(".")[0] for where, _ in CASES}) > 95


@pytest.fixture(scope="module")
def knots() -> Any:
    return load_knots()


@pytest.mark.parametrize(("where", "before"), CASES, ids=[where for where, _ in CASES])
def test_whatever_was_other_is_told(where: str, before: ReleaseContent, knots: Any) -> None:
    errata = find_errata(before, NOW)
    assert not errata.is_empty
    assert errata.order == (where in ORDER), "told as what it is"
    assert changes_in_brief(errata, read_words(installed()))
    text = sheet(errata, knots)
    told = text.partition("What it means for you")[2].partition("may differ in what is told")[2]
    if errata.touches_finished and not errata.order:
        assert len(told.split()) > 4, text
    assert "{" not in text


ORDER = (
    "assembly[0] number",
    "assembly[0] placement mark",
    "assembly[0] mark",
    "parts[0] steps[0] number",
    "shopping[0] left_m",
)
"""Numbers that count, and say nothing more."""


def sheet(errata: Errata, knots: Any) -> str:
    manuscript = write_errata(
        demo(SLUG),
        demo_plan(SLUG),
        knots,
        installed(),
        "a4",
        errata,
        EarlierRelease("0.9", date(2026, 1, 1)),
        date=datetime(2026, 6, 20, tzinfo=UTC),
        form="text",
    )
    return lay_out_text(manuscript)
