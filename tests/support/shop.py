"""The installed templates and demo patterns, for tests that need real ones."""

from __future__ import annotations

import dataclasses
from collections.abc import Mapping
from datetime import datetime
from functools import cache
from pathlib import Path

from publisher.catalogue.workshop import read_templates
from publisher.knots import load_knots
from publisher.layout import lay_out
from publisher.manuscript import write_manuscript
from publisher.manuscript.blocks import Manuscript
from publisher.manuscript.edition import edition_hand
from publisher.model.book import Book
from publisher.model.pattern import Pattern
from publisher.model.plan import Plan
from publisher.plan import make_plan
from publisher.press import print_book
from publisher.source import read_pattern
from publisher.source.mirror import for_left_hand
from publisher.store import Memory, Store
from publisher.templates import TemplateFile, Templates

ROOT = Path(__file__).parents[2]
SLUGS = (
    "boats-at-the-weir",
    "heron-step",
    "kingfisher-over-reeds",
    "lantern-window",
    "tide-lines",
)
DATE = datetime(2026, 9, 1)
MEMORY = Memory()
"""What these books have in common is drawn once."""


@cache
def installed() -> Templates:
    return read_templates(None)


def changed(**texts: str) -> Templates:
    """The installed templates with some texts put in place of others: `pages__text_svg="…"`."""
    files: dict[str, TemplateFile] = dict(installed().files)
    for key, text in texts.items():
        name = key.replace("__", "/").replace("_toml", ".toml").replace("_svg", ".svg")
        files[name] = TemplateFile(text, f"templates/{name}")
    return Templates(files)


def with_files(texts: Mapping[str, str]) -> Templates:
    """The installed templates and a writer's own, as they would be read from her folder."""
    files = dict(installed().files)
    for name, text in texts.items():
        before = files[name].text if name in files else ""
        files[name] = TemplateFile(text, f"templates/{name}", instead_of=before)
    return Templates(files)


@cache
def demo(slug: str) -> Pattern:
    return read_pattern(ROOT / "patterns" / f"{slug}.toml")


@cache
def demo_plan(slug: str, hand: str = "right") -> Plan:
    pattern = demo(slug)
    return make_plan(for_left_hand(pattern) if hand == "left" else pattern)


def manuscript(
    pattern: Pattern,
    edition: str = "booklet",
    paper: str = "a4",
    templates: Templates | None = None,
) -> Manuscript:
    templates = templates or installed()
    if edition_hand(templates, edition) == "left":
        pattern = for_left_hand(pattern)
    plan = make_plan(pattern)
    knots = load_knots()
    return write_manuscript(
        pattern, plan, knots, templates, edition, paper, date=DATE, store=Store(MEMORY)
    )


def book(
    pattern: Pattern,
    edition: str = "booklet",
    paper: str = "a4",
    templates: Templates | None = None,
) -> Book:
    written = manuscript(pattern, edition, paper, templates)
    return lay_out(written, templates or installed(), Store(MEMORY))


@cache
def demo_pdf(slug: str, edition: str = "booklet", paper: str = "a4") -> bytes:
    return print_book(book(demo(slug), edition, paper))


def small(cells: tuple[str, ...], slug: str = "tide-lines") -> Pattern:
    """A demo pattern with another chart in it."""
    pattern = demo(slug)
    piece = dataclasses.replace(pattern.pieces[0], cells=cells)
    return dataclasses.replace(pattern, pieces=(piece,))
