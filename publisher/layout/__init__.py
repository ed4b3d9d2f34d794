"""Lay a manuscript out in pages: measured, broken into lines and columns, drawn by templates."""

from publisher.layout.book import lay_out
from publisher.layout.picture import lay_out_picture

__all__ = ["lay_out", "lay_out_picture"]
