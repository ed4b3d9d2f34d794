"""Write the errata of a release: a sheet for earlier buyers, and a line for the writer."""

from __future__ import annotations

from typing import TYPE_CHECKING

from publisher.lazy_exports import lazy_exports

if TYPE_CHECKING:
    from publisher.errata.sheet.summary import changes_in_brief
    from publisher.errata.sheet.write import write_errata

__all__ = ["changes_in_brief", "write_errata"]

__getattr__ = lazy_exports(__name__, {"changes_in_brief": "summary", "write_errata": "write"})
