"""Say which names of files some system keeps for itself."""

from __future__ import annotations

import re

_RESERVED = re.compile(r"(con|prn|aux|nul|com\d|lpt\d)(\..*)?", re.IGNORECASE)


def is_reserved(name: str) -> bool:
    """Whether Windows takes a file of this name, whatever its ending is, for a device.

    Source: Microsoft, “Naming Files, Paths, and Namespaces”.
    """
    return _RESERVED.fullmatch(name) is not None
