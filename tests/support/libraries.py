"""What is installed with the program: the libraries it asks for, and what those ask for."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable
from importlib.metadata import distribution

from packaging.requirements import Requirement

from tests.support.drivers import ROOT

PROJECT = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]


def named(requirement: str) -> str:
    """The name in a requirement, as names are compared (PyPA, name normalization)."""
    name = re.match(r"[A-Za-z0-9._-]+", requirement)
    assert name, requirement
    return re.sub(r"[-_.]+", "-", name[0]).lower()


def closure(names: Iterable[str]) -> set[str]:
    """These distributions and all that they need on this machine."""
    reached: set[str] = set()
    waiting = set(names)
    while waiting:
        name = waiting.pop()
        reached.add(name)
        for need in map(Requirement, distribution(name).requires or ()):
            if need.marker is None or need.marker.evaluate({"extra": ""}):
                waiting |= {named(need.name)} - reached
    return reached
