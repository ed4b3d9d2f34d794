"""Choose a chart's colours: the picture's own, found in OKLab, or the best of those given."""

from __future__ import annotations

import numpy as np

from publisher.charting.flat import as_rgb, flat_colours
from publisher.charting.oklab import LINEAR, colours_of, lab_of, oklab, srgb
from publisher.charting.sampling import Samples
from publisher.charting.subset import best_subset
from publisher.charting.values import Choice, Floats
from publisher.model.colour import Colour, difference

_GRAIN = 2.0
"""Samples nearer than this in OKLab are one: about what is just seen."""
_STEEP = 3.0
"""A sample so far off its neighbours, on both sides, counts half."""
_RARE = 0.001
"""A kind of colour with this part of the picture begins to be one."""
_MORE = 5
"""So many times more colours are looked for than there are to be, one more each time."""
_ROUNDS = 60
_OF_ITS_KIND = 0.5
"""From this part of a colour's samples on, one exact colour stands for all of them."""
_SAME = 2.0
"""CIEDE2000 below which two colours of a drawing were meant to be one, and hardly show."""
_ALIKE = 10.0
"""CIEDE2000 from which on an edge between two colours shows at arm's length; our own choice, and
what the plan's advice asks for."""


def choose_colours(samples: Samples, choice: Choice) -> tuple[Colour, ...]:
    """At most `choice.most` colours, the most used first."""
    flat = flat_colours(samples)
    if flat:
        coded, weights = flat
        points = oklab(LINEAR[as_rgb(coded)].astype(np.float64))
    else:
        points, weights = _bins(samples)
    if choice.only:
        found = _of_those(choice.only, points, weights, choice.most)
    elif flat:
        exact = _apart(colours_of(as_rgb(coded)), weights, _SAME)
        found = _of_those(exact, points, weights, choice.most)
    else:
        found = _own(points, weights, samples, choice.most)
    if not choice.only:
        found = _with_near(found, choice.near, _ALIKE)
        found = _with_near(found, choice.before, _SAME)
    return _by_use(found, points, weights)


def _bins(samples: Samples) -> tuple[Floats, Floats]:
    """The samples' OKLab values, like ones taken together, and what each weighs.

    Samples on edges are mixtures of what is on either side, and count for little.
    """
    light = oklab(samples.light)
    steep = _steepness(light).ravel()
    lab = light.reshape(-1, 3).astype(np.float64)
    every = 1 / (1 + (steep / _STEEP) ** 4)
    grid = np.floor(lab / _GRAIN).astype(np.int64)
    keys = ((grid[:, 0] + 512) << 40) | ((grid[:, 1] + 512) << 20) | (grid[:, 2] + 512)
    _, inverse = np.unique(keys, return_inverse=True)
    weights = np.bincount(inverse, every)
    sums = [np.bincount(inverse, every * lab[:, axis]) for axis in range(3)]
    return np.stack(sums, axis=1) / weights[:, None], weights.astype(np.float64)


def _steepness(lab: Floats) -> Floats:
    """Return how much each sample is off its neighbours, of those the nearer ones on either
    side."""
    steep = np.zeros(lab.shape[:2])
    for axis in (0, 1):
        if lab.shape[axis] > 1:
            steps = np.sqrt((np.diff(lab, axis=axis) ** 2).sum(-1))
            ends = [(1, 1) if at == axis else (0, 0) for at in (0, 1)]
            edged = np.pad(steps, ends, mode="edge")
            first, second = (edged[:-1], edged[1:]) if axis == 0 else (edged[:, :-1], edged[:, 1:])
            steep += np.minimum(first, second)
    return steep


def _of_those(
    colours: tuple[Colour, ...], points: Floats, weights: Floats, most: int
) -> tuple[Colour, ...]:
    """The best of these."""
    costs = _shares(weights)[:, None] * distances(points, lab_of(colours))
    return tuple(colours[at] for at in best_subset(costs, most))


def _shares(weights: Floats) -> Floats:
    """Return what each kind of colour weighs: the root of how often it is met, so that a wide sky
    leaves colours for the boat on it; rare ones, noise and mixtures, fall off to nothing."""
    shares: Floats = weights / np.sqrt(weights + _RARE * weights.sum())
    return shares


def _own(points: Floats, weights: Floats, samples: Samples, most: int) -> tuple[Colour, ...]:
    """The picture's own colours. Where some are too alike, others are looked for instead."""
    best: tuple[Colour, ...] = ()
    for more in range(_MORE):
        means = _k_means(points, weights, most + more)
        nearest = np.argmin(distances(points, means), axis=1)
        use = np.bincount(nearest, weights, len(means)).astype(np.float64)
        found = _apart(_exact(means, samples), use, _ALIKE)
        if len(best) < len(found) <= most or not best:
            best = found[:most]
        if len(found) >= most or len(means) < most + more:
            break
    return best


def _k_means(points: Floats, weights: Floats, count: int) -> Floats:
    """Means of so many groups (Lloyd 1982): groups by shares, the means themselves true ones."""
    shares = _shares(weights)
    centres = _seeds(points, shares, count)
    for _ in range(_ROUNDS):
        moved = _means(points, shares, centres)
        if np.allclose(moved, centres, atol=1e-3):
            break
        centres = moved
    return _means(points, weights, centres)


def _seeds(points: Floats, shares: Floats, most: int) -> Floats:
    """The mean's nearest sample, then again and again the one that is farthest off for its
    weight."""
    mean = np.average(points, axis=0, weights=shares)
    chosen = [int(np.argmin(((points - mean) ** 2).sum(1)))]
    nearest = ((points - points[chosen[0]]) ** 2).sum(1)
    while len(chosen) < most:
        worst = shares * nearest
        at = int(np.argmax(worst))
        if worst[at] <= 0:
            break
        chosen.append(at)
        nearest = np.minimum(nearest, ((points - points[at]) ** 2).sum(1))
    return points[chosen]


def _means(points: Floats, weights: Floats, centres: Floats) -> Floats:
    """Each centre's mean of the points that are nearest to it; it stays where there are none."""
    nearest = np.argmin(distances(points, centres), axis=1)
    total = np.bincount(nearest, weights, len(centres))
    sums = [np.bincount(nearest, weights * points[:, axis], len(centres)) for axis in range(3)]
    means = np.stack(sums, axis=1) / np.maximum(total, 1e-12)[:, None]
    return np.where(total[:, None] > 0, means, centres)


def _exact(means: Floats, samples: Samples) -> tuple[Colour, ...]:
    """The means as colours; where one exact colour is most of its kind, that one."""
    rounded = srgb(means)
    coded, counts = np.unique(samples.looks, return_counts=True)
    lab = oklab(LINEAR[as_rgb(coded)].astype(np.float64))
    nearest = np.argmin(distances(lab, means), axis=1)
    total = np.bincount(nearest, counts, len(means))
    for at in range(len(means)):
        mine = np.where(nearest == at, counts, 0)
        if mine.max() > _OF_ITS_KIND * total[at]:
            rounded[at] = as_rgb(coded[[int(np.argmax(mine))]])[0]
    return colours_of(rounded)


def _apart(colours: tuple[Colour, ...], use: Floats, least: float) -> tuple[Colour, ...]:
    """Those that differ by so much: of two that do not, the more frequent one."""
    kept: list[Colour] = []
    for at in np.argsort(-use, kind="stable"):
        if all(difference(colours[at].lab, other.lab) >= least for other in kept):
            kept.append(colours[at])
    return tuple(kept)


def _with_near(
    found: tuple[Colour, ...], near: tuple[Colour, ...], less: float
) -> tuple[Colour, ...]:
    """The colours of `near` in the place of such as differ less from them."""
    taken = []
    for colour in found:
        twin = min(near, key=lambda other: difference(colour.lab, other.lab), default=colour)
        taken.append(twin if difference(colour.lab, twin.lab) < less else colour)
    return tuple(dict.fromkeys(taken))


def _by_use(colours: tuple[Colour, ...], points: Floats, weights: Floats) -> tuple[Colour, ...]:
    nearest = np.argmin(distances(points, lab_of(colours)), axis=1)
    use = np.bincount(nearest, weights, len(colours))
    return tuple(colours[at] for at in np.argsort(-use, kind="stable"))


def distances(points: Floats, colours: Floats) -> Floats:
    """From every point to every colour, in OKLab."""
    squares = (points**2).sum(-1)[..., None] + (colours**2).sum(-1)
    found: Floats = np.sqrt(np.maximum(squares - 2 * (points @ colours.T), 0))
    return found
