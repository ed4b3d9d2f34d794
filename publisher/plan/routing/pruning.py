"""Find which edges of a two-sided graph its largest assignments can have at all.

After Dulmage and Mendelsohn (1958). Seen from one largest assignment, an edge is in another if it
lies on a round, or on a way from a node that stays alone, that takes edges out and puts edges in
by turns. Where the fewest yarns leave no choice, as in stripes and checkers, hardly an edge is
left over; elsewhere the graph falls into blocks.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from numpy import bool_, int64
    from numpy.typing import NDArray


def largest_assignment(
    firsts: NDArray[int64], seconds: NDArray[int64], sizes: tuple[int, int]
) -> NDArray[int64]:
    """For each first node its second node in one largest assignment, or -1.

    `firsts`, `seconds`: the nodes of each edge, each side from 0; `sizes`: how many on each side.
    Begun by taking what can wait least, then made the largest by scipy's maximum flow.
    """
    import numpy
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import maximum_flow

    partner = _take_what_waits_least(firsts, seconds, sizes)
    left, right = sizes
    alone = numpy.flatnonzero(partner < 0)
    tied = numpy.flatnonzero(partner >= 0)
    free = numpy.setdiff1d(numpy.arange(right), partner[tied])
    if not len(alone) or not len(free):
        return partner
    source, sink = left + right, left + right + 1
    out = partner[firsts] == seconds
    tails = numpy.where(out, left + seconds, firsts)
    heads = numpy.where(out, firsts, left + seconds)
    tails = numpy.concatenate([tails, numpy.full(len(alone), source), left + free])
    heads = numpy.concatenate([heads, alone, numpy.full(len(free), sink)])
    once = numpy.ones(len(tails), numpy.int32)
    table = csr_array((once, (tails, heads)), shape=(sink + 1, sink + 1))
    flow = maximum_flow(table, source, sink).flow.tocoo()
    tail, head = (nodes[flow.data > 0].astype(numpy.int64) for nodes in flow.coords)
    given_up = (tail >= left) & (head < left)
    partner[head[given_up]] = -1
    taken = (tail < left) & (head >= left) & (head < source)
    partner[tail[taken]] = head[taken] - left
    return partner


def _take_what_waits_least(
    firsts: NDArray[int64], seconds: NDArray[int64], sizes: tuple[int, int]
) -> NDArray[int64]:
    """Each second node, in order, takes the first node that soonest has no other to wait for."""
    import numpy

    last = numpy.zeros(sizes[0], numpy.int64)
    numpy.maximum.at(last, firsts, seconds)
    order = numpy.lexsort((firsts, last[firsts], seconds))
    partner = [-1] * sizes[0]
    done = -1
    for first, second in zip(firsts[order].tolist(), seconds[order].tolist(), strict=True):
        if second != done and partner[first] < 0:
            partner[first] = done = second
    return numpy.array(partner, numpy.int64)


def possible_edges(
    firsts: NDArray[int64], seconds: NDArray[int64], partner: NDArray[int64], right: int
) -> NDArray[bool_]:
    """Return which edges are in some largest assignment; `partner` tells one, `right` the second
    nodes."""
    import numpy
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import connected_components

    left = len(partner)
    tied = numpy.flatnonzero(partner >= 0)
    alone = numpy.flatnonzero(partner < 0)
    free = left + numpy.setdiff1d(numpy.arange(right), partner[tied])
    tails = numpy.concatenate([firsts, left + partner[tied]])
    heads = numpy.concatenate([left + seconds, tied])
    nodes = left + right
    from_alone = _reached(tails, heads, alone, nodes)
    to_free = _reached(heads, tails, free, nodes)
    shape = (nodes, nodes)
    table = csr_array((numpy.ones(len(tails), numpy.int8), (tails, heads)), shape=shape)
    _, round_ = connected_components(table, directed=True, connection="strong")
    useful: NDArray[bool_] = (
        from_alone[firsts] | to_free[left + seconds] | (round_[firsts] == round_[left + seconds])
    )
    return useful


def _reached(
    tails: NDArray[int64], heads: NDArray[int64], starts: NDArray[int64], nodes: int
) -> NDArray[bool_]:
    """Return whether each node is reached from any of the starts, along the edges."""
    import numpy
    from scipy.sparse import csr_array
    from scipy.sparse.csgraph import breadth_first_order

    tails = numpy.concatenate([tails, numpy.full(len(starts), nodes)])
    heads = numpy.concatenate([heads, starts])
    shape = (nodes + 1, nodes + 1)
    table = csr_array((numpy.ones(len(tails), numpy.int8), (tails, heads)), shape=shape)
    found = breadth_first_order(table, nodes, directed=True, return_predecessors=False)
    reached = numpy.zeros(nodes + 1, numpy.bool_)
    reached[found] = True
    return reached
