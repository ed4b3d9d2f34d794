"""Name the knots that are used where a pattern names none, as `defaults.toml` says."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from pathlib import Path

from publisher.frozen import frozen
from publisher.tables.syntax import parse


@frozen
class Defaults:
    """Names of knots by what they are used for; `defaults.toml` says what that is.

    `handling`: the procedures, by what in a plan asks for them.
    """

    mount: str
    chart: str
    yarn_ends: str
    cord_ends: str
    wrap: str
    example: str
    order: tuple[str, ...]
    handling: Mapping[str, str]


@cache
def defaults() -> Defaults:
    """Return the package's defaults."""
    path = Path(__file__).with_suffix(".toml")
    data = parse(path.read_text("utf-8"), path.name)
    return Defaults(**(data | {"order": tuple(data["order"])}))
