"""Tie the ends of many places as a cheapest join, with PyMatching's sparse blossoms: exact.

A place holds one end or more; ends of one place cost nothing to tie. PyMatching finds lines
between places, the cheapest that leave an odd number of lines at each place with an odd number
of ends; staying alone is a line of its own, at a price. Where no place has more lines than ends,
these are the best pairs: every set of pairs makes such lines, after those that cancel are left
out. Where a place has more, its ends are put apart and each of their lines is made dearer: every
set of pairs has one line for each end, so all become dearer alike.

The price of staying alone begins low and rises until no fewer ends can stay alone: a price far
above what is needed makes the search wander over the whole piece. The search ends, unproven, when
so much work is done as `WORK` says. Work is counted in tries of the lines there are; it never
depends on a clock, so that a plan is the same on every machine.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from publisher.plan.graph import Graph
from publisher.plan.shortfall import fewest_alone

if TYPE_CHECKING:
    from numpy import int64
    from numpy.typing import NDArray

FIRST_PRICE = 2.0
"""Of staying alone, in the dearest line."""
HIGHEST_PRICE = 64.0
"""Hardly any piece needs so much; from here on the search gives up. PyMatching keeps whole weights
below 2**24 as they are: twice this price for lines of up to 100 mm in micrometres."""
QUICKLY, SLOWLY = 1.5, 1.25
"""How the price rises from try to try: slowly where an end that must stay alone would go on
searching until it is reached."""
MANY_ALONE = 30
WORK = 30_000_000.0
"""Of all tries for one part: lines, each counted for every try at a low price, some 3 µs then."""
DOUBLE_WORK = 10.0
"""The price at which a try is twice the work; beyond, it grows with the cube of the price."""
MANY_LINES = 300_000
"""Parts of more lines begin at the lower price: there the last few ends can take longer than all
the others together."""
FIRST_PRICE_OF_MANY = 1.0
VAST_LINES = 1_000_000
"""In parts of more lines the search ends when few ends are left, beyond those that must stay."""
FEW_IF_VAST = 1e-4
"""Of the ends."""


class Ties(NamedTuple):
    """Lines by edge number, places with an end that stays alone, and whether they are the best.

    If `proven` is false, the lines are the cheapest for so many ends alone, but fewer ends might
    be left alone: a pair or two may be missing.
    """

    edges: list[int]
    alone: list[int]
    proven: bool


def tie_places(graph: Graph, part: Sequence[int], counts: Sequence[int]) -> Ties:
    """The most ties and, among those, the least cost, between the ends of a part's places.

    `graph`: of places, with what a tie between two of them costs; `counts`: each place's ends.
    """
    task = _Task.of(graph, part, counts)
    few = int(FEW_IF_VAST * task.counts.sum()) if len(part) > VAST_LINES else 0
    price, work = FIRST_PRICE_OF_MANY if len(part) > MANY_LINES else FIRST_PRICE, 0.0
    best: Ties | None = None
    while True:
        work += len(part) * (1 + (price / DOUBLE_WORK) ** 3)
        last = price > HIGHEST_PRICE or work > WORK
        if last and best:
            return best
        lines, alone, crowded = task.join(price)
        if len(alone) > MANY_ALONE and not last:
            price *= QUICKLY
        elif len(crowded):
            task.put_apart(crowded, price)
        else:
            least = fewest_alone(task.ends, task.counts, task.dearer)
            if best is None or len(alone) < len(best.alone):
                edges = [part[at] for at in lines.tolist()]
                best = Ties(edges, task.names[alone].tolist(), proven=False)
            best = best._replace(proven=len(best.alone) <= least)
            if len(best.alone) <= least + few:
                return best
            price *= SLOWLY if least else QUICKLY


@dataclass(slots=True)
class _Task:
    """A part for numpy: its places from 0, lines between them, and what was made dearer so far."""

    names: NDArray[int64]
    ends: NDArray[int64]
    """First and second place of each line."""
    costs: NDArray[int64]
    counts: NDArray[int64]
    dearer: NDArray[int64]
    """By place: what was added to each line of each of its ends; zero where they are together."""

    @classmethod
    def of(cls, graph: Graph, part: Sequence[int], counts: Sequence[int]) -> _Task:
        import numpy

        firsts, seconds, costs = graph.columns(part)
        both = numpy.concatenate([firsts, seconds])
        names, inverse = numpy.unique(both, return_inverse=True)
        own = numpy.array(counts)[names]
        return cls(names, inverse.reshape(2, -1), costs, own, numpy.zeros_like(own))

    @property
    def unit(self) -> int:
        """More than the dearest line."""
        return int(self.costs.max()) + 1

    def put_apart(self, places: NDArray[int64], price: float) -> None:
        """Make the lines of each end of these places dearer, and dearer from time to time.

        More than staying alone costs is never needed: then two lines too many are dearer than
        two ends alone.
        """
        most = int(price * self.unit) + 1
        self.dearer[places] = (2 * self.dearer[places]).clip(most // 2 + 1, most)

    def join(self, price: float) -> tuple[NDArray[int64], NDArray[int64], NDArray[int64]]:
        """Numbers of lines, places with an end alone, and places with more of both than ends."""
        import numpy
        from pymatching import Matching
        from scipy.sparse import csc_array

        copies = numpy.where(self.dearer > 0, self.counts, 1)
        owner = numpy.repeat(numpy.arange(len(copies)), copies)
        held = numpy.where(self.dearer > 0, 1, self.counts)[owner]
        line, ends = self._lines(copies)
        weights = self.dearer[owner[ends]].sum(axis=0)
        weights[line >= 0] += self.costs[line[line >= 0]]
        nodes, edges = len(owner), len(line)
        table = csc_array(
            (
                numpy.ones(2 * edges + nodes, numpy.uint8),
                numpy.concatenate([ends.T.ravel(), numpy.arange(nodes)]),
                numpy.append(numpy.arange(0, 2 * edges, 2), 2 * edges + numpy.arange(nodes + 1)),
            ),
            shape=(nodes, edges + nodes),
        )
        prices = numpy.concatenate([weights, int(price * self.unit) + self.dearer[owner]])
        none = csc_array((1, edges + nodes), dtype=numpy.uint8)
        solver = Matching(table, weights=prices.astype(float), faults_matrix=none)
        found = solver.decode_to_edges_array((held % 2).astype(numpy.uint8)).astype(numpy.int64)
        single = found.min(axis=1) < 0
        alone, tied = found[single].max(axis=1), found[~single].T
        used = numpy.bincount(numpy.append(tied.ravel(), alone), minlength=nodes)
        taken = line[numpy.isin(_names(ends, nodes), _names(tied, nodes))]
        return taken[taken >= 0], owner[alone], numpy.unique(owner[used > held])

    def _lines(self, copies: NDArray[int64]) -> tuple[NDArray[int64], NDArray[int64]]:
        """Every line between nodes and inside of places: its number (inside: -1) and two nodes.

        `copies`: how many nodes each place is.
        """
        import numpy

        start = numpy.cumsum(copies) - copies
        across, down = copies[self.ends]
        times = across * down
        line = numpy.repeat(numpy.arange(len(times)), times)
        turn = numpy.arange(len(line)) - numpy.repeat(numpy.cumsum(times) - times, times)
        firsts = start[self.ends[0, line]] + turn // down[line]
        seconds = start[self.ends[1, line]] + turn % down[line]
        inside = [
            (start[place] + one, start[place] + other)
            for place in numpy.flatnonzero(copies > 1)
            for other in range(copies[place])
            for one in range(other)
        ]
        within = numpy.array(inside, numpy.int64).reshape(-1, 2).T
        ends = numpy.concatenate([numpy.stack([firsts, seconds]), within], axis=1)
        return numpy.append(line, numpy.full(within.shape[1], -1)), ends


def _names(pairs: NDArray[int64], nodes: int) -> NDArray[int64]:
    """One number for each pair of nodes, whichever comes first."""
    name: NDArray[int64] = pairs.min(axis=0) * nodes + pairs.max(axis=0)
    return name
