"""Write a plan as a book's content in reading order, by edition."""

from __future__ import annotations

from typing import TYPE_CHECKING

from publisher.lazy_exports import lazy_exports

if TYPE_CHECKING:
    from publisher.manuscript.figures import lone_figures
    from publisher.manuscript.index import write_entry, write_index
    from publisher.manuscript.sections.terms import write_licence
    from publisher.manuscript.spoken_plan import plan_for_people
    from publisher.manuscript.write import write_manuscript

__all__ = [
    "lone_figures",
    "plan_for_people",
    "write_entry",
    "write_index",
    "write_licence",
    "write_manuscript",
]

__getattr__ = lazy_exports(
    __name__,
    {
        "lone_figures": "figures",
        "plan_for_people": "spoken_plan",
        "write_entry": "index",
        "write_index": "index",
        "write_licence": "sections.terms",
        "write_manuscript": "write",
    },
)
