"""Cut the cords of a picture into runs, and stack the runs so that what is nearer covers."""

from __future__ import annotations

import math
from bisect import bisect_right
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from publisher.drawing.knot.scene import PicturedCord
from publisher.frozen import frozen
from publisher.knots.crossings import Crossing, Pass
from publisher.knots.curve import SAMPLES, Curve

PIECES = (0.5, 1.0)
"""Least and greatest length of the pieces that are stacked, in diameters of their cord: short
where its curve has short segments."""
_TOO_LONG = 1.5
"""In greatest lengths: where a step of the curve would make a piece longer, a new one begins."""
_THIN = 0.25
"""Pieces of a thinner cord are as long as those of one this thick: knots are no smaller for it."""
OVERLAP = 0.96
"""Cords nearer than this share of their width cover each other."""
BEND = 1.3
"""Pieces of one cord nearer than this along it (in diameters) are one bend, not an overlap."""


@frozen
class CordStretch:
    """A stretch of a cord that is painted in one go, above all runs of lower layers."""

    drawn: PicturedCord
    start: float
    end: float
    layer: int


@dataclass(slots=True, eq=False)
class _Piece:
    drawn: PicturedCord
    start: float
    end: float
    way: float
    """How far along its cord its middle lies, in space."""
    places: tuple[_Place, _Place, _Place]
    reach: float
    """From its middle to the farther of its other places."""
    below: list[_Piece]
    above: list[_Piece]
    layer: int = 0


def stack(cords: Sequence[PicturedCord], crossings: Sequence[Crossing]) -> list[CordStretch]:
    """The runs of all cords, cord by cord, each with its layer."""
    lines = [_pieces(drawn) for drawn in cords]
    _order_crossings(lines, crossings)
    _order_overlaps([piece for line in lines for piece in line])
    _set_layers([piece for line in lines for piece in line])
    for line in lines * 2:
        _even_out(line)
        _even_out(line[::-1])
    return [run for line in lines for run in _runs(line)]


def _pieces(drawn: PicturedCord) -> list[_Piece]:
    return [_Piece(drawn, *cut, [], []) for cut in _cuts(drawn.curve, drawn.diameter)]


_Place = tuple[complex, float]
_Cut = tuple[float, float, float, tuple[_Place, _Place, _Place], float]
"""Where a piece starts and ends, and what else of it depends on the curve alone."""


@lru_cache(maxsize=256)
def _cuts(curve: Curve, diameter: float) -> tuple[_Cut, ...]:
    """They are kept, as a knot's stages show many stretches again."""
    _, height = curve.sampled
    way = curve.way
    least, most = (length * max(diameter, _THIN) for length in PIECES)
    cuts: list[_Cut] = []
    start, gone, since, step = 0, 0.0, 0.0, most
    last = len(way) - 1
    for k in range(1, len(way)):
        length = math.hypot(way[k] - way[k - 1], height[k] - height[k - 1])
        if since and since + length > _TOO_LONG * most:
            cuts += _split(curve, start, k - 1, gone, since, step)
            gone, since, start = gone + since, 0.0, k - 1
        since += length
        if k % SAMPLES == 1:
            segment = way[min(k + SAMPLES - 1, last)] - way[k - 1]
            step = min(max(segment, least), most)
        if since >= step or k == last:
            cuts += _split(curve, start, k, gone, since, step)
            gone, since, start = gone + since, 0.0, k
    return tuple(cuts)


def _split(
    curve: Curve, first: int, last: int, gone: float, length: float, step: float
) -> Iterator[_Cut]:
    """Pieces from one sample to another: one, or more where a single step is long."""
    plane, height = curve.sampled
    count = max(1, round(length / step)) if last == first + 1 else 1
    for k in range(count):
        start = (first + (last - first) * k / count) / SAMPLES
        end = (first + (last - first) * (k + 1) / count) / SAMPLES
        places = []
        for share in _SHARES:
            at = (start + (end - start) * share) * SAMPLES
            i = int(at)
            t, place, low = at - i, plane[i], height[i]
            places.append((place + t * (plane[i + 1] - place), low + t * (height[i + 1] - low)))
        (first_place, _), (middle, _), (last_place, _) = places
        reach = max(abs(first_place - middle), abs(last_place - middle))
        middle_way = gone + length * (k + 0.5) / count
        yield start, end, middle_way, (places[0], places[1], places[2]), reach


_SHARES = (0.15, 0.5, 0.85)
"""Where a piece is looked at: near its ends, and in its middle; along the straight steps of the
samples."""


def _order_crossings(lines: Sequence[Sequence[_Piece]], crossings: Sequence[Crossing]) -> None:
    by_name = {line[0].drawn.name: (line, [piece.end for piece in line[:-1]]) for line in lines}

    def piece_at(passed: Pass) -> _Piece:
        line, ends = by_name[passed.strand]
        return line[bisect_right(ends, passed.u)]

    for crossing in crossings:
        over, under = piece_at(crossing.over), piece_at(crossing.under)
        if over is not under:
            over.below.append(under)
            under.above.append(over)


def _order_overlaps(pieces: Sequence[_Piece]) -> None:
    """Put the nearer of two overlapping pieces above the other."""
    halves = [OVERLAP * piece.drawn.diameter / 2 + piece.reach for piece in pieces]
    size = 2 * max(halves)  # so that a piece is in four cells at most
    cells: defaultdict[tuple[int, int], list[tuple[int, complex, float, int, int]]]
    cells = defaultdict(list)
    for index, (piece, half) in enumerate(zip(pieces, halves, strict=True)):
        middle = piece.places[1][0]
        left, right = int((middle.real - half) // size), int((middle.real + half) // size)
        top, bottom = int((middle.imag - half) // size), int((middle.imag + half) // size)
        seen = index, middle, half, left, top
        near: list[int] = []
        for column in range(left, right + 1):
            for row in range(top, bottom + 1):
                cell = cells[column, row]
                for other, place, its_half, its_left, its_top in cell:
                    # A pair that shares several cells is looked at in the first of them.
                    if (
                        abs(middle - place) < half + its_half
                        and column in (left, its_left)
                        and row in (top, its_top)
                    ):
                        near.append(other)
                cell.append(seen)
        bend = BEND * piece.drawn.diameter
        for one in sorted(near):
            other_piece = pieces[one]
            if other_piece.drawn is not piece.drawn or abs(other_piece.way - piece.way) >= bend:
                _order_pair(other_piece, piece)


def _order_pair(one: _Piece, two: _Piece) -> None:
    if one in two.above or one in two.below:
        return
    nearest, rise = OVERLAP * (one.drawn.diameter + two.drawn.diameter) / 2, 0.0
    others = two.places
    for place, height in one.places:
        for other_place, other_height in others:
            distance = abs(place - other_place)
            if distance < nearest:
                nearest, rise = distance, other_height - height
    if abs(rise) > 0.05:
        low, high = (one, two) if rise > 0 else (two, one)
        low.above.append(high)
        high.below.append(low)


def _set_layers(pieces: Sequence[_Piece]) -> None:
    """The lowest layer above all that lies below; a ring of pieces is opened at its lowest."""
    waiting = {id(piece): len(piece.below) for piece in pieces}
    ready = [piece for piece in pieces if not piece.below]
    lowest = sorted(pieces, key=lambda piece: piece.places[1][1])[::-1]
    left = {id(piece) for piece in pieces}
    while left:
        if not ready:
            ready = [lowest.pop()]
        piece = ready.pop()
        if id(piece) not in left:
            continue
        left.remove(id(piece))
        for higher in piece.above:
            if id(higher) not in left:  # the ring was opened here: it stays the lowest
                continue
            higher.layer = max(higher.layer, piece.layer + 1)
            waiting[id(higher)] -= 1
            if not waiting[id(higher)]:
                ready.append(higher)


def _even_out(line: Sequence[_Piece]) -> None:
    """Lift or lower pieces to their neighbour's layer where nothing forbids it: longer runs."""
    for before, piece in pairwise(line):
        layer = before.layer
        if (
            piece.layer != layer
            and all(low.layer < layer for low in piece.below)
            and all(high.layer > layer for high in piece.above)
        ):
            piece.layer = layer


def _runs(line: Sequence[_Piece]) -> list[CordStretch]:
    runs: list[CordStretch] = []
    for piece in line:
        if runs and runs[-1].layer == piece.layer:
            last = runs.pop()
            runs.append(CordStretch(last.drawn, last.start, piece.end, last.layer))
        else:
            runs.append(CordStretch(piece.drawn, piece.start, piece.end, piece.layer))
    return runs
