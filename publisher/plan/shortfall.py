"""Find how many ends of a piece must stay alone, whatever is tied to what.

By the formula of Tutte and Berge: some ends are taken out; of each rest that hangs together and is
odd, one end stays alone, but for those that are tied to an end that was taken out. For the right
ends to take out, it is as many as must stay alone in all.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from numpy import bool_, int64
    from numpy.typing import NDArray


def fewest_alone(ends: NDArray[int64], counts: NDArray[int64], dearer: NDArray[int64]) -> int:
    """No fewer ends can stay alone than this.

    `ends`: the two places of each line; `counts`: each place's ends; `dearer`: above zero at
    places that may have to be taken out, most where it is likely.
    """
    import numpy

    out = dearer > 0
    least = _left_alone(ends, counts, out)
    for place in sorted(numpy.flatnonzero(out).tolist(), key=lambda place: int(dearer[place])):
        out[place] = False
        fewer = _left_alone(ends, counts, out)
        out[place] = fewer < least
        least = max(least, fewer)
    return least


def _left_alone(ends: NDArray[int64], counts: NDArray[int64], out: NDArray[bool_]) -> int:
    """How many ends stay alone at least, as these places show."""
    import numpy
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    kept = ends[:, ~out[ends].any(axis=0)]
    places = len(counts)
    table = coo_array((numpy.ones(kept.shape[1], numpy.uint8), tuple(kept)), (places, places))
    parts, label = connected_components(table, directed=False)
    inside = numpy.bincount(label[~out], weights=counts[~out], minlength=parts)
    return int((inside % 2).sum() - counts[out].sum())
