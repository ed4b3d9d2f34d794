"""The verbs of the other rooms, each imported when it is first called.

A run that only looks at what is out of date imports none of them; tests put other verbs here.
"""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING, Any

from publisher.frozen import frozen
from publisher.store import NO_STORE, Store

if TYPE_CHECKING:
    from publisher.errors import Problem
    from publisher.knots import KnotLibrary
    from publisher.manuscript.blocks import Manuscript
    from publisher.manuscript.figures import LoneFigure
    from publisher.manuscript.index import IndexEntry
    from publisher.manuscript.options import Hand
    from publisher.model.book import Book
    from publisher.model.colour import Colour
    from publisher.model.pattern import Pattern
    from publisher.model.plan import Plan
    from publisher.templates import TemplateFile, Templates


_pdfium_turn = threading.Lock()
"""pdfium is for one thread at a time, and the watch's server has several."""


@frozen(slots=False)
class Pipeline:
    """From a pattern's file to its PDF."""

    def read_pattern(self, path: Path) -> Pattern:
        from publisher.source import read_pattern

        return read_pattern(path)

    def find_unprintable(self, pattern: Pattern) -> tuple[Problem, ...]:
        from publisher.source import find_unprintable

        return find_unprintable(pattern)

    def refuse_unknown_terms(self, pattern: Pattern, templates: Templates) -> None:
        from publisher.source import refuse_unknown_terms

        refuse_unknown_terms(pattern, tuple(templates.names("terms")))

    def load_knots(self, own: Mapping[str, str], words: TemplateFile) -> KnotLibrary:
        from publisher.knots import load_knots

        return load_knots(own, words)

    def edition_hand(self, templates: Templates, edition: str) -> Hand:
        from publisher.manuscript.edition import edition_hand

        return edition_hand(templates, edition)

    def make_plan(self, pattern: Pattern) -> Plan:
        from publisher.plan import make_plan

        return make_plan(pattern)

    def plan_as_json(self, plan: Plan) -> dict[str, Any]:
        from publisher.plan import plan_as_json

        return plan_as_json(plan)

    def cutting_list_csv(self, plan: Plan) -> str:
        from publisher.plan import cutting_list_csv

        return cutting_list_csv(plan)

    def write_manuscript(
        self,
        pattern: Pattern,
        plan: Plan,
        knots: KnotLibrary,
        templates: Templates,
        edition: str,
        paper: str,
        date: datetime,
        options: Mapping[str, Any],
        store: Store,
    ) -> Manuscript:
        from publisher.manuscript import write_manuscript

        return write_manuscript(
            pattern,
            plan,
            knots,
            templates,
            edition,
            paper,
            date=date,
            options=options,
            store=store,
        )

    def counts_students(self, templates: Templates, edition: str) -> bool:
        from publisher.manuscript.edition import counts_students

        return counts_students(templates, edition)

    def edition_form(self, templates: Templates, edition: str) -> str:
        from publisher.manuscript.edition import edition_form

        return edition_form(templates, edition)

    def lay_out_text(self, manuscript: Manuscript) -> str:
        from publisher.layout import lay_out_text

        return lay_out_text(manuscript)

    def lay_out_web(self, manuscript: Manuscript, templates: Templates) -> str:
        from publisher.layout import lay_out_web

        return lay_out_web(manuscript, templates)

    def lay_out_bench(
        self, manuscript: Manuscript, templates: Templates, store: Store = NO_STORE
    ) -> str:
        from publisher.layout import lay_out_bench

        return lay_out_bench(manuscript, templates, store)

    def lay_out(
        self, manuscript: Manuscript, templates: Templates, store: Store = NO_STORE
    ) -> Book:
        from publisher.layout import lay_out

        return lay_out(manuscript, templates, store)

    def lay_out_picture(
        self, plan: Plan, knots: KnotLibrary, templates: Templates, store: Store = NO_STORE
    ) -> Book:
        from publisher.layout import lay_out_picture

        return lay_out_picture(plan, templates, knots, store)

    def lone_figures(
        self, plan: Plan, knots: KnotLibrary, templates: Templates, store: Store
    ) -> Mapping[str, Callable[[], LoneFigure]]:
        from publisher.manuscript import lone_figures

        return lone_figures(plan, knots, templates, store)

    def figure_svg(self, lone: LoneFigure, name: str) -> str:
        from publisher.drawing import standalone_svg

        return standalone_svg(
            lone.figure, lone.title, name, lone.language, lone.ground, lone.margin_mm
        )

    def lacking_for_pictures(self) -> Problem | None:
        """Return why no SVG file can be turned into a PNG here, if so."""
        from publisher.press import lacking_for_pictures

        return lacking_for_pictures()

    def svg_picture(self, svg: str, width_px: int, height_px: int, ground: Colour) -> bytes:
        from publisher.press import svg_picture

        return svg_picture(svg, width_px, height_px, ground)

    def write_entry(
        self,
        pattern: Pattern,
        plan: Plan,
        knots: KnotLibrary,
        templates: Templates,
        store: Store,
    ) -> IndexEntry:
        from publisher.manuscript import write_entry

        return write_entry(pattern, plan, knots, templates, store)

    def write_index(
        self,
        entries: Sequence[IndexEntry],
        books: Mapping[str, Sequence[tuple[str, str]]],
        templates: Templates,
        paper: str,
        date: datetime,
    ) -> Manuscript:
        from publisher.manuscript import write_index

        return write_index(entries, books, templates, paper, date)

    def index_words(self, templates: Templates) -> Mapping[str, str]:
        from publisher.manuscript.words import read_words

        return read_words(templates).under("index")

    def lay_out_index(self, manuscript: Manuscript, templates: Templates) -> str:
        from publisher.layout import lay_out_index

        return lay_out_index(manuscript, templates)

    def print_book(self, book: Book, store: Store = NO_STORE) -> bytes:
        from publisher.press import print_book

        return print_book(book, store)

    def picture_of(self, book: Book, dpi: float) -> Callable[[], bytes]:
        """The first page as a PNG: printed now, and painted by another thread, beside what is done
        until it is asked for. pdfium leaves the interpreter alone meanwhile."""
        from publisher.catalogue.build.background import in_background

        pdf = self.print_book(replace(book, pages=book.pages[:1], bookmarks=()))
        return in_background(lambda: self.page_picture(pdf, 1, dpi))

    def page_picture(self, pdf: bytes, number: int, dpi: float) -> bytes:
        """One page as a PNG. IndexError where there is none of this number."""
        from publisher.press import page_png

        with _pdfium_turn:
            return page_png(pdf, number, dpi)

    def page_sizes(self, pdf: bytes) -> list[tuple[float, float]]:
        """Every page's width and height, in points."""
        from publisher.press import page_sizes

        return page_sizes(pdf)

    def warm(self) -> None:
        """Import all of it, before workers are forked off that share it."""
        from publisher.layout import lay_out, lay_out_picture  # noqa: F401
        from publisher.manuscript import write_manuscript  # noqa: F401
        from publisher.plan import make_plan  # noqa: F401
        from publisher.press import print_book  # noqa: F401
