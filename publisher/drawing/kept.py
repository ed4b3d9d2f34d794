"""Keep the figures of parts: each is drawn once, and known by all that it depends on.

What it is known by is the same in every process, so that figures can be kept between runs.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Mapping
from hashlib import blake2b

from publisher.model.figure import Figure

MOST_KEPT = 24_000_000
"""Characters of figures in memory: what some patterns' editions show."""

Figures = tuple[Figure, ...]

_kept: OrderedDict[str, Figures] = OrderedDict()
_brought: dict[str, Figures] = {}
_used: set[str] = set()
_weight = 0


def drawn_once(told: object, draw: Callable[[], Figures]) -> Figures:
    """Return what `draw` draws, which `told` tells all of, by value."""
    name = name_of(told)
    figures = _kept.get(name) or _brought.get(name) or draw()
    _keep(name, figures)
    _used.add(name)
    return figures


def name_of(told: object) -> str:
    """The same for values that are the same; `told` is of values that say all in their `repr`."""
    return blake2b(repr(told).encode("utf-8", "surrogatepass"), digest_size=16).hexdigest()


def bring_figures(figures: Mapping[str, Figures]) -> None:
    """Use figures that were drawn before, in place of those that were brought before; from now on
    those that are used are noted."""
    _brought.clear()
    _brought.update(figures)
    _used.clear()


def take_figures() -> Mapping[str, Figures]:
    """The figures drawn, or used, since some were brought, by what they are known by."""
    taken = {name: _kept[name] for name in sorted(_used) if name in _kept}
    _used.clear()
    return taken


def _keep(name: str, figures: Figures) -> None:
    """Remember them as the latest, and no more than there is room for."""
    global _weight
    if name not in _kept:
        _weight += weight_of(figures)
        _kept[name] = figures
    _kept.move_to_end(name)
    while _weight > MOST_KEPT:
        _weight -= weight_of(_kept.popitem(last=False)[1])


def weight_of(figures: Figures) -> int:
    return sum(len(figure.svg) for figure in figures)
