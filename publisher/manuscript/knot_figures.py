"""Draw a knot's stages for a book, each kind just once however many books follow."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from publisher.drawing import draw_knot_stages
from publisher.knots import Knot, load_knots
from publisher.knots.refill import with_fillers
from publisher.knots.turn import mirror_knot
from publisher.manuscript.blocks import FIGURE_GAP
from publisher.manuscript.edition import Edition, read_edition
from publisher.manuscript.options import Hand
from publisher.model.figure import Figure, weight_of
from publisher.model.look import Look
from publisher.store import NO_STORE, Memory, Store
from publisher.templates import Templates

_HEIGHT = 1.3  # of the width
_ROUNDING_MM = 0.01
_LEAST_SHARE = 0.72
"""Of a figure's usual width: what it may be made smaller to, so that a line is not parted."""

Stages = tuple[tuple[Figure, ...], tuple[str, ...]]
"""A knot's figures, and the words under each."""


def knot_stages(
    knot: Knot, look: Look, hand: Hand, strands: int, width_mm: float, store: Store = NO_STORE
) -> Stages:
    """Return a figure and its words for every stage. Most books of a catalogue show the same
    knots."""

    def draw() -> Stages:
        size = width_mm, width_mm * _HEIGHT
        figures = draw_knot_stages(knot, look, *size, hand=hand, strands=strands)
        shown = with_fillers(knot, strands)
        if hand == "left":
            shown = mirror_knot(shown)
        return figures, tuple(stage.words for stage in shown.stages)

    told = "knot", knot.digest, look.of_figures, hand, strands, width_mm
    return store.get(told, draw, lambda stages: weight_of(stages[0]), shared=True)


def figure_width_mm(edition: Edition, stages: int) -> float:
    """A figure's width: a little less than usual where all stages then stand in one line, or one
    more of them on a page, under one another."""
    look, usual = edition.look, float(edition.option("knot_figure_mm"))
    gap, room = look.frame.column_gap_mm, look.paper.text_width_mm
    in_line = (room + gap) / stages - gap
    if in_line >= usual * _LEAST_SHARE:
        return min(in_line, usual)
    under_one_another = edition.option("knot_figures_a_page")
    if not under_one_another:
        return usual
    fitting = width_under_one_another(under_one_another, look)
    return fitting if usual * _LEAST_SHARE <= fitting < usual else usual


def width_under_one_another(figures: int, look: Look) -> float:
    """The width of a figure at which so many stand on a page, each with its words beside it."""
    frame = look.frame
    room_mm = look.paper.text_bottom_mm - frame.title_mm - frame.title_gap_mm
    gaps_mm = (figures - 1) * FIGURE_GAP * look.type["figure-words"].lead_mm
    return (room_mm - gaps_mm) / figures / _HEIGHT - _ROUNDING_MM


def draw_booklets_knots(templates: Templates, papers: Iterable[str]) -> Mapping[str, bytes]:
    """Draw all knots of the library as booklets show them, for a store to find them."""
    store = Store(Memory())
    for paper in papers:
        edition = read_edition(templates, "booklet", paper)
        for knot in load_knots().values():
            for hand in ("right", "left"):
                width_mm = figure_width_mm(edition, len(knot.stages))
                knot_stages(knot, edition.look, hand, 2, width_mm, store)
    return store.collect_shared()
