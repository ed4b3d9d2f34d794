"""Draw a knot's stages for a book, each kind just once however many books follow."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from hashlib import blake2b

from publisher.drawing import draw_knot_stages
from publisher.knots import Knot
from publisher.knots.refill import with_fillers
from publisher.knots.turn import mirror_knot
from publisher.manuscript.blocks import FIGURE_GAP
from publisher.manuscript.edition import Hand
from publisher.model.figure import Figure
from publisher.model.look import Look

_HEIGHT = 1.3  # of the width
_MOST_KEPT = 256
_ROUNDING_MM = 0.01

Stages = tuple[tuple[Figure, ...], tuple[str, ...]]
"""A knot's figures, and the words under each."""


@dataclass(slots=True)
class _Drawn:
    """The figures that were drawn in this process, or found elsewhere.

    Figures depend on the knot, the look and the size alone. `by_knot` finds them quickly, by a
    knot that is held so that its place in memory stays its own; `by_name` by a name that other
    processes give them too.
    """

    by_knot: dict[tuple[object, ...], tuple[Knot, Stages]] = field(default_factory=dict)
    by_name: dict[str, Stages] = field(default_factory=dict)
    find: Callable[[str], Stages | None] = lambda name: None
    fresh: dict[str, Stages] = field(default_factory=dict)


_drawn = _Drawn()


def knot_stages(knot: Knot, look: Look, hand: Hand, strands: int, width_mm: float) -> Stages:
    """A figure and its words for every stage.

    Knots and looks never change, so what was drawn is kept: the same knots stand in most books
    of a catalogue.
    """
    key = (id(knot), hand, strands, width_mm, look.key)
    found = _drawn.by_knot.get(key)
    if found is None:
        if len(_drawn.by_knot) >= _MOST_KEPT:
            _drawn.by_knot.clear()
        stages = _brought_or_drawn(knot, look, hand, strands, width_mm)
        found = _drawn.by_knot[key] = (knot, stages)
    return found[1]


def width_under_one_another(figures: int, look: Look) -> float:
    """The width of a figure at which so many stand on a page, each with its words beside it."""
    frame = look.frame
    room_mm = look.paper.text_bottom_mm - frame.title_mm - frame.title_gap_mm
    gaps_mm = (figures - 1) * FIGURE_GAP * look.type["figure-words"].lead_mm
    return (room_mm - gaps_mm) / figures / _HEIGHT - _ROUNDING_MM


def bring_stages(find: Callable[[str], Stages | None]) -> None:
    """Use figures that another process drew, by the same program with the same fonts.

    `find` finds them by name: that of the knot, a hyphen, and a digest of all that is drawn.
    """
    _drawn.by_knot.clear()
    _drawn.by_name.clear()
    _drawn.find = find
    _drawn.fresh.clear()


def take_fresh_stages() -> dict[str, Stages]:
    """Return what has been drawn since the last time, by names that are the same in every
    process."""
    fresh = dict(_drawn.fresh)
    _drawn.fresh.clear()
    return fresh


def _brought_or_drawn(knot: Knot, look: Look, hand: Hand, strands: int, width_mm: float) -> Stages:
    told = repr((knot, hand, strands, width_mm, look.key)).encode()
    name = f"{knot.name}-{blake2b(told, digest_size=16).hexdigest()}"
    found = _drawn.by_name.get(name) or _drawn.find(name)
    if found is None:
        found = _drawn.fresh[name] = _draw(knot, look, hand, strands, width_mm)
    _drawn.by_name[name] = found
    return found


def _draw(knot: Knot, look: Look, hand: Hand, strands: int, width_mm: float) -> Stages:
    figures = draw_knot_stages(knot, look, width_mm, width_mm * _HEIGHT, hand=hand, strands=strands)
    shown = with_fillers(knot, strands)
    if hand == "left":
        shown = mirror_knot(shown)
    return figures, tuple(stage.words for stage in shown.stages)
