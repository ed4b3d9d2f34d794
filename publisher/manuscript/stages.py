"""Draw a knot's stages for a book, each kind just once however many books follow."""

from __future__ import annotations

from publisher.drawing import draw_knot_stages
from publisher.drawing.figure import Figure
from publisher.drawing.look import Look
from publisher.knots import Knot
from publisher.manuscript.edition import Hand

_HEIGHT = 1.3  # of the width
_MOST_KEPT = 256

_Stages = tuple[tuple[Figure, ...], tuple[str, ...]]
_kept: dict[tuple[object, ...], tuple[Knot, _Stages]] = {}


def knot_stages(knot: Knot, look: Look, hand: Hand, strands: int, width_mm: float) -> _Stages:
    """A figure and its words for every stage.

    Knots and looks never change, so what was drawn is kept: the same knots stand in most books
    of a catalogue.
    """
    key = (id(knot), hand, strands, width_mm, look.key)
    found = _kept.get(key)
    if found is None:
        if len(_kept) >= _MOST_KEPT:
            _kept.clear()
        found = _kept[key] = (knot, _draw(knot, look, hand, strands, width_mm))
    return found[1]


def _draw(knot: Knot, look: Look, hand: Hand, strands: int, width_mm: float) -> _Stages:
    figures = draw_knot_stages(knot, look, width_mm, width_mm * _HEIGHT, hand=hand, strands=strands)
    shown = knot.with_fillers(strands)
    if hand == "left":
        shown = shown.mirrored()
    return figures, tuple(stage.words for stage in shown.stages)
