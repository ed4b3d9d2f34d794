"""Tell a drawing in flat colours from a photo, and find its colours exactly."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from publisher.charting.sampling import Samples
from publisher.charting.values import Floats

_FEW = 64
"""A picture with no more colours than this is a drawing in them."""
_SHARE = 0.0002
"""The least part of a drawing that a flat colour has in plain areas."""
_EXPLAINED = 0.97
"""The part of a drawing that is flat, or a mixture of two flat colours as on smooth edges."""
_MOST_MIXED = 0.35
_OFF = 8.0
"""How far, in 8-bit steps, a mixture may lie off the line between its two colours."""
_MOST_MIXTURES = 3_000
"""More mixtures than these, the most frequent, are not looked at."""

Coded = NDArray[np.uint32]


def flat_colours(samples: Samples) -> tuple[Coded, Floats] | None:
    """The colours of a drawing and how often each is met; None if the picture is no drawing."""
    coded, counts = np.unique(samples.looks, return_counts=True)
    if len(coded) <= _FEW:
        return coded, counts.astype(np.float64)
    plain, often = np.unique(samples.looks[samples.even], return_counts=True)
    flat = plain[often >= max(2.0, _SHARE * len(samples.looks))]
    if not 0 < len(flat) <= _FEW:
        return None
    is_flat = np.isin(coded, flat)
    total, held = counts.sum(), counts[is_flat].sum()
    if total - held > _MOST_MIXED * total:
        return None
    rest, rest_counts = coded[~is_flat], counts[~is_flat]
    order = np.argsort(-rest_counts, kind="stable")[:_MOST_MIXTURES]
    mixed = rest_counts[order][_is_mixture(_channels(rest[order]), _channels(flat))].sum()
    if held + mixed < _EXPLAINED * total:
        return None
    return coded[is_flat], counts[is_flat].astype(np.float64)


def _is_mixture(colours: Floats, flat: Floats) -> NDArray[np.bool_]:
    """Return which colours lie near a line between two flat ones."""
    near = np.zeros(len(colours), np.bool_)
    for at, one in enumerate(flat):
        for other in flat[at + 1 :]:
            way = other - one
            share = np.clip((colours - one) @ way / (way @ way), 0, 1)
            off = colours - one - share[:, None] * way
            near |= (off**2).sum(1) <= _OFF**2
    return near


def _channels(coded: Coded) -> Floats:
    return as_rgb(coded).astype(np.float64)


def as_rgb(coded: Coded) -> NDArray[np.uint8]:
    """Red, green and blue of 0xRRGGBB, a row each."""
    return np.stack((coded >> 16, coded >> 8 & 255, coded & 255), axis=1).astype(np.uint8)
