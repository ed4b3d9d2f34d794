"""Hold a sparse graph: edges between numbered nodes, each with a whole cost."""

from __future__ import annotations

from array import array
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from numpy import int64
    from numpy.typing import NDArray


class Graph:
    """Edges by number. Compact, so that a chart of a hundred thousand yarns fits in memory.

    `nodes`: how many nodes there may be, numbered from 0. Costs are zero or more.
    """

    __slots__ = ("costs", "firsts", "nodes", "seconds")

    def __init__(self, nodes: int) -> None:
        self.nodes = nodes
        self.firsts = array("q")
        self.seconds = array("q")
        self.costs = array("q")

    def __len__(self) -> int:
        return len(self.costs)

    def add(self, first: int, second: int, cost: int) -> None:
        """One more edge; a pair of nodes has one at most."""
        self.firsts.append(first)
        self.seconds.append(second)
        self.costs.append(cost)

    def nodes_of(self, edges: Iterable[int]) -> list[int]:
        """The nodes that some edges have, in order."""
        found = set()
        for edge in edges:
            found.add(self.firsts[edge])
            found.add(self.seconds[edge])
        return sorted(found)

    def columns(
        self, edges: Sequence[int]
    ) -> tuple[NDArray[int64], NDArray[int64], NDArray[int64]]:
        """First nodes, second nodes and costs of some edges, for numpy."""
        import numpy

        at = numpy.array(edges)
        firsts, seconds, costs = (
            numpy.frombuffer(column, numpy.int64)[at]
            for column in (self.firsts, self.seconds, self.costs)
        )
        return firsts, seconds, costs

    def parts(self) -> list[list[int]]:
        """The edges of each part that hangs together, parts and edges in the order they come."""
        leaders = self._leaders()
        parts: dict[int, list[int]] = {}
        for edge, first in enumerate(self.firsts):
            parts.setdefault(leaders[first], []).append(edge)
        return list(parts.values())

    def _leaders(self) -> Sequence[int]:
        """For each node one node that stands for its part: union-find, halving paths."""
        leader = list(range(self.nodes))
        for one, other in zip(self.firsts, self.seconds, strict=True):
            while leader[one] != one:
                leader[one] = one = leader[leader[one]]
            while leader[other] != other:
                leader[other] = other = leader[leader[other]]
            leader[max(one, other)] = min(one, other)
        return [self._top(leader, node) for node in range(self.nodes)]

    @staticmethod
    def _top(leader: list[int], node: int) -> int:
        """A node's leader. Leaders have lower numbers: those before this node are settled."""
        leader[node] = leader[leader[node]]
        return leader[node]
