"""Turn TOML and PNG files into patterns: one validated `Pattern`, or every problem in them."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from publisher.source.listing import list_patterns
    from publisher.source.read import read_pattern
    from publisher.source.starter import starter_pattern

__all__ = ["list_patterns", "read_pattern", "starter_pattern"]

_HOMES = {"list_patterns": "listing", "read_pattern": "read", "starter_pattern": "starter"}


def __getattr__(name: str) -> Any:
    """Import a verb when it is first asked for: who only needs the values loads no schema."""
    if name not in _HOMES:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    from importlib import import_module

    return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
