"""Measure the writer's own knots that a pattern's steps tie, in both hands."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from publisher.frozen import frozen
from publisher.knots.turn import mirror_knot
from publisher.model.pattern import Pattern
from publisher.source.own_knots import FOLDER

if TYPE_CHECKING:
    from publisher.knots.tied import Tied


@frozen
class MeasuredKnot:
    """A knot as it is drawn, which is facing left, and in the mirror."""

    left: Tied
    right: Tied


def measure_own(pattern: Pattern) -> Mapping[str, MeasuredKnot]:
    """By name. SourceError holds every problem of their files."""
    if not pattern.own_knots:
        return {}
    from publisher.knots import load_knots
    from publisher.knots.tied import measure

    folder = Path(pattern.path).parent / FOLDER
    texts = {str(folder / f"{knot.name}.toml"): knot.text for knot in pattern.own_knots}
    knots = load_knots(texts)
    return {
        own.name: MeasuredKnot(measure(knots[own.name]), measure(mirror_knot(knots[own.name])))
        for own in pattern.own_knots
    }
