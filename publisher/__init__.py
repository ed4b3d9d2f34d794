"""Plan, draw and publish knotting patterns.

Three calls from a pattern's file to its PDF:

    from publisher import make_plan, publish, read_pattern

    pattern = read_pattern("patterns/tide-lines.toml")
    plan = make_plan(pattern)
    Path("tide-lines.pdf").write_bytes(publish(pattern, plan))

`build_catalogue` brings a whole folder of patterns up to date; `chart_picture` makes a chart of a
photo or drawing; `release_pattern` bundles a version that never changes again.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from publisher.lazy_exports import lazy_exports

if TYPE_CHECKING:
    from publisher.catalogue import build_catalogue, chart_picture, publish
    from publisher.catalogue.release import release_pattern
    from publisher.errors import PublisherError
    from publisher.plan import make_plan
    from publisher.source import read_pattern

__all__ = [
    "PublisherError",
    "build_catalogue",
    "chart_picture",
    "make_plan",
    "publish",
    "read_pattern",
    "release_pattern",
]

__getattr__ = lazy_exports(
    __name__,
    {
        "PublisherError": "errors",
        "build_catalogue": "catalogue",
        "chart_picture": "catalogue",
        "make_plan": "plan",
        "publish": "catalogue",
        "read_pattern": "source",
        "release_pattern": "catalogue.release",
    },
)


def __dir__() -> list[str]:
    return sorted(__all__)
