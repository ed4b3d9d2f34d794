"""Turn TOML and PNG files into patterns: one validated `Pattern`, or every problem in them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from publisher.lazy_exports import lazy_exports

if TYPE_CHECKING:
    from publisher.source.folder import list_patterns
    from publisher.source.photo import open_photo
    from publisher.source.read import read_house, read_pattern
    from publisher.source.starter import starter_pattern
    from publisher.source.terms import refuse_unknown_terms, written_at
    from publisher.source.unprintable import find_unprintable

__all__ = [
    "find_unprintable",
    "list_patterns",
    "open_photo",
    "read_house",
    "read_pattern",
    "refuse_unknown_terms",
    "starter_pattern",
    "written_at",
]

__getattr__ = lazy_exports(
    __name__,
    {
        "find_unprintable": "unprintable",
        "list_patterns": "folder",
        "open_photo": "photo",
        "read_house": "read",
        "read_pattern": "read",
        "refuse_unknown_terms": "terms",
        "starter_pattern": "starter",
        "written_at": "terms",
    },
)
