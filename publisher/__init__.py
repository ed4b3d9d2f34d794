"""Plan, draw and publish knotting patterns.

Three calls from a pattern's file to its PDF:

    from publisher import make_plan, publish, read_pattern

    pattern = read_pattern("patterns/tide-lines.toml")
    plan = make_plan(pattern)
    Path("tide-lines.pdf").write_bytes(publish(pattern, plan))

`build_catalogue` brings a whole folder of patterns up to date.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from publisher.catalogue import build_catalogue, publish
    from publisher.errors import PublisherError
    from publisher.plan import make_plan
    from publisher.source import read_pattern

__all__ = ["PublisherError", "build_catalogue", "make_plan", "publish", "read_pattern"]

_HOMES = {
    "PublisherError": "publisher.errors",
    "build_catalogue": "publisher.catalogue",
    "make_plan": "publisher.plan",
    "publish": "publisher.catalogue",
    "read_pattern": "publisher.source",
}


def __getattr__(name: str) -> Any:
    """Import a name from its room when it is first asked for."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(_HOMES[name]), name)


def __dir__() -> list[str]:
    return sorted(__all__)
