"""Figures of the demo patterns as files of their own, and as they stand in a PDF."""

from __future__ import annotations

from functools import cache

from publisher.drawing import standalone_svg
from publisher.drawing.base.numbers import number
from publisher.knots import load_knots
from publisher.manuscript import lone_figures
from publisher.manuscript.figures import LoneFigure
from publisher.press import print_book
from tests.support.shop import demo_plan, installed
from tests.support.svg_books import book


@cache
def names_of(slug: str) -> tuple[str, ...]:
    return tuple(lone_figures(demo_plan(slug), load_knots(), installed()))


@cache
def lone(slug: str, name: str) -> LoneFigure:
    return lone_figures(demo_plan(slug), load_knots(), installed())[name]()


@cache
def svg_of(slug: str, name: str) -> str:
    shown = lone(slug, name)
    ground, margin = shown.ground, shown.margin_mm
    return standalone_svg(shown.figure, shown.title, f"{name}-{slug}", "en", ground, margin)


def in_a_pdf(slug: str, name: str) -> bytes:
    """The figure alone on a page of its size, its words in the fonts of the house."""
    shown = lone(slug, name)
    width, height = map(number, shown.size_mm)
    body = (
        f'<g data-tag="Artifact"><path d="M0 0H{width}V{height}H0Z" fill="{shown.ground}"/>'
        f'<g transform="translate({shown.margin_mm} {shown.margin_mm})">{shown.figure.svg}</g></g>'
    )
    return print_book(book(body, width_mm=float(width), height_mm=float(height)))
