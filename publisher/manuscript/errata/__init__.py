"""Write the errata of a release: a sheet for earlier buyers, and a line for the writer."""

from __future__ import annotations

from typing import TYPE_CHECKING

from publisher.lazy import homes

if TYPE_CHECKING:
    from publisher.manuscript.errata.spoken import changes_in_brief
    from publisher.manuscript.errata.write import write_errata

__all__ = ["changes_in_brief", "write_errata"]

__getattr__ = homes(__name__, {"changes_in_brief": "spoken", "write_errata": "write"})
