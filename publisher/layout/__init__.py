"""Lay a manuscript out in pages: measured, broken into lines and columns, drawn by templates."""

from __future__ import annotations

from typing import TYPE_CHECKING

from publisher.lazy_exports import lazy_exports

if TYPE_CHECKING:
    from publisher.layout.at_the_bench import lay_out_bench
    from publisher.layout.book import lay_out
    from publisher.layout.lint import lint_templates
    from publisher.layout.picture import lay_out_picture
    from publisher.layout.plain_text import lay_out_text
    from publisher.layout.web import lay_out_index, lay_out_web

__all__ = [
    "lay_out",
    "lay_out_bench",
    "lay_out_index",
    "lay_out_picture",
    "lay_out_text",
    "lay_out_web",
    "lint_templates",
]

__getattr__ = lazy_exports(
    __name__,
    {
        "lay_out": "book",
        "lay_out_bench": "at_the_bench",
        "lay_out_index": "web",
        "lay_out_picture": "picture",
        "lay_out_text": "plain_text",
        "lay_out_web": "web",
        "lint_templates": "lint",
    },
)
