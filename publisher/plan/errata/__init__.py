"""Find what changed between two releases of a pattern: content × content → errata, as values."""

from __future__ import annotations

from typing import TYPE_CHECKING

from publisher.lazy import homes

if TYPE_CHECKING:
    from publisher.plan.errata.content import content_of
    from publisher.plan.errata.find import find_errata

__all__ = ["content_of", "find_errata"]

__getattr__ = homes(__name__, {"content_of": "content", "find_errata": "find"})
