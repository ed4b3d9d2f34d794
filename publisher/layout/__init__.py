"""Lay a manuscript out in pages: measured, broken into lines and columns, drawn by templates."""

from publisher.layout.book import lay_out

__all__ = ["lay_out"]
