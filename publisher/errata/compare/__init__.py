"""Find what changed between two releases of a pattern: content × content → errata, as values."""

from __future__ import annotations

from typing import TYPE_CHECKING

from publisher.lazy_exports import lazy_exports

if TYPE_CHECKING:
    from publisher.errata.compare.content import content_of
    from publisher.errata.compare.find import find_errata

__all__ = ["content_of", "find_errata"]

__getattr__ = lazy_exports(__name__, {"content_of": "content", "find_errata": "find"})
