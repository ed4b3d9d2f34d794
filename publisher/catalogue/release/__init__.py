"""Release patterns: bundles that never change under their version, each with a record of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from publisher.lazy_exports import lazy_exports

if TYPE_CHECKING:
    from publisher.catalogue.release.outcome import Released
    from publisher.catalogue.release.release import release_pattern

__all__ = ["Released", "release_pattern"]

__getattr__ = lazy_exports(__name__, {"Released": "outcome", "release_pattern": "release"})
