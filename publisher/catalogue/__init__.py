"""Make a catalogue of patterns: what is out of date, by whom it is made, and where it is put.

`publish` makes one book of one pattern; `build_catalogue` brings a whole folder up to date;
`chart_picture` makes a chart of a photo or drawing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from publisher.lazy_exports import lazy_exports

if TYPE_CHECKING:
    from publisher.catalogue.build.build import build_catalogue
    from publisher.catalogue.charting.chart import chart_picture
    from publisher.catalogue.single import publish

__all__ = ["build_catalogue", "chart_picture", "publish"]

__getattr__ = lazy_exports(
    __name__,
    {"build_catalogue": "build.build", "chart_picture": "charting.chart", "publish": "single"},
)
