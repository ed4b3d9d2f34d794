"""Find the colours that a chart may be made in: new ones, or those that the house has.

The house's colours are the [colours] of house.toml. Where it has none, they are those in which the
patterns beside it use its yarns: what the writer has knotted with. A pattern's own go before them.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from pathlib import Path

from publisher.errors import Place, Problem, PublisherError, SourceError
from publisher.frozen import frozen
from publisher.model.colour import Colour, Lab, difference
from publisher.model.pattern import ChartPiece, Pattern, Yarn, YarnColour
from publisher.source import list_patterns, read_house, read_pattern
from publisher.source.read import House

_USUAL_YARN = Yarn("cotton", "3 mm soft cotton", 3.0, 4.5)
_SAME = 3.0
"""CIEDE2000: patterns that call so near colours of one yarn by two values mean one."""


@frozen
class Shelf:
    """The colours and yarns that there are to choose from."""

    new_yarn: Yarn
    """The yarn of colours that are found in the picture."""
    in_house: bool
    """Whether house.toml, or the pattern itself, describes that yarn."""
    only: tuple[YarnColour, ...] = ()
    """The colours to choose from; none: they are found in the picture."""
    patterns: int | None = None
    passed_over: tuple[Path, ...] = ()


def find_shelf(path: Path, old: Pattern | None, target: ChartPiece | None, of_house: bool) -> Shelf:
    """The colours for a chart in the pattern file `path`, which may be there already.

    SourceError where house.toml is wrong, or has no colour to choose from.
    """
    house_path = path.parent / "house.toml"
    house = read_house(house_path)
    if not of_house:
        return _new_colours(house, old, target)
    own = old.colours if old else ()
    if house.colours:
        return _shelf(house, (*own, *house.colours))
    found, count, passed_over = _in_patterns(house, path)
    if not own and not found:
        raise SourceError(_empty(house_path))
    return _shelf(house, _merged((*own, *found), len(own)), count, passed_over)


def _new_colours(house: House, old: Pattern | None, target: ChartPiece | None) -> Shelf:
    """Colours of the yarn that the chart is mostly worked in, or of the house's first one."""
    if old and target:
        knots = Counter("".join(target.cells))
        weight: Counter[Yarn] = Counter()
        for colour in old.colours:
            weight[colour.yarn] += knots[colour.letter]
        return Shelf(max(weight, key=weight.__getitem__), True)
    if house.yarns:
        return Shelf(house.yarns[0], True)
    return Shelf(_USUAL_YARN, False)


def _shelf(
    house: House,
    colours: Sequence[YarnColour],
    patterns: int | None = None,
    passed_over: tuple[Path, ...] = (),
) -> Shelf:
    """Of colours that look exactly alike the first one."""
    only = {colour.srgb: colour for colour in reversed(colours)}
    first = tuple(colour for colour in colours if only[colour.srgb] is colour)
    return Shelf(first[0].yarn, True, first, patterns, passed_over)


def _in_patterns(house: House, path: Path) -> tuple[list[YarnColour], int, tuple[Path, ...]]:
    """The colours of the house's yarns in the other patterns of its folder."""
    found: list[YarnColour] = []
    passed_over = []
    count = 0
    for other in list_patterns(path.parent):
        if other.name == path.name:
            continue
        try:
            pattern = read_pattern(other)
        except PublisherError:
            passed_over.append(other)
            continue
        mine = [colour for colour in pattern.colours if colour.yarn in house.yarns]
        count += bool(mine)
        found += mine
    return found, count, tuple(passed_over)


def _merged(colours: Iterable[YarnColour], sure: int) -> list[YarnColour]:
    """Without those that are as good as one before them; the first `sure` ones stay."""
    kept: list[YarnColour] = []
    labs: dict[Yarn, list[Lab]] = {}
    seen: set[tuple[Yarn, Colour]] = set()
    for number, colour in enumerate(colours):
        lab, known = colour.srgb.lab, labs.setdefault(colour.yarn, [])
        new = (colour.yarn, colour.srgb) not in seen  # most patterns have the same few
        seen.add((colour.yarn, colour.srgb))
        if number < sure or (new and all(difference(one, lab) >= _SAME for one in known)):
            kept.append(colour)
            known.append(lab)
    return kept


def _empty(house: Path) -> Problem:
    message = "the house has no colours to choose from"
    hint = (
        "add each colour that you have, as in a pattern: [colours.N] with its name, srgb and yarn"
        if house.exists()
        else "write this file, with [yarns] and [colours] as in a pattern"
    )
    return Problem(Place(str(house)), message, hint)
