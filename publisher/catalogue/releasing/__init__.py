"""Release patterns: bundles that never change under their version, each with a record of it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from publisher.lazy import homes

if TYPE_CHECKING:
    from publisher.catalogue.releasing.release import release_pattern
    from publisher.catalogue.releasing.values import Released

__all__ = ["Released", "release_pattern"]

__getattr__ = homes(__name__, {"Released": "values", "release_pattern": "release"})
