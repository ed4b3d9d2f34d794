"""Tell what changed in what to cut and what to buy, and who is short."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby

from publisher.errata.compare.changes import BuyChange, CutChange, MoreToBuy
from publisher.errata.compare.content import BuyTold, ReleaseContent
from publisher.model.plan import CutLine, Purpose
from publisher.plan.lists.cutting import cut_rows
from publisher.plan.lists.shopping import ball_metres, whole_up, yards_and_ounces

_Key = tuple[str, Purpose, str]
_Lengths = tuple[tuple[int, float], ...]


def cut_changes(
    before: Iterable[CutLine], after: Iterable[CutLine], letters: Mapping[str, str]
) -> tuple[CutChange, ...]:
    """By piece, use and colour, in the new list's order, then what is gone."""
    old, new = _lines(before, letters), _lines(after, None)
    return tuple(
        CutChange(*key, was, now, _missing(was, now))
        for key in dict.fromkeys((*new, *old))
        if (was := old.get(key, ())) != (now := new.get(key, ()))
    )


def _lines(lines: Iterable[CutLine], letters: Mapping[str, str] | None) -> dict[_Key, _Lengths]:
    """Lengths, the longest first. `letters`: of a colour that is gone, its own letter stays."""
    found: dict[_Key, list[tuple[int, float]]] = {}
    for line in lines:
        colour = line.colour if letters is None else letters.get(line.colour, f"-{line.colour}")
        key = line.piece, line.purpose, colour
        found.setdefault(key, []).append((line.count, line.length_mm))
    return {
        key: tuple(sorted(lengths, key=lambda line: -line[1])) for key, lengths in found.items()
    }


def _missing(before: _Lengths, after: _Lengths) -> _Lengths:
    """The lengths that what was cut by the old list can't serve: the fewest that can be.

    From the longest on, each takes the longest that is left, if that is long enough; if not, none
    is, and every shorter one can be served as well as before.
    """
    there = deque(_each(before))
    missing: list[float] = []
    for length_mm in _each(after):
        if there and there[0] >= length_mm:
            there.popleft()
        else:
            missing.append(length_mm)
    return tuple((len(list(same)), length_mm) for length_mm, same in groupby(missing))


def _each(lengths: _Lengths) -> Iterator[float]:
    for count, length_mm in lengths:
        yield from [length_mm] * count


def buy_changes(
    before: ReleaseContent, after: ReleaseContent, letters: Mapping[str, str]
) -> tuple[BuyChange, ...]:
    """By colour, in the new list's order, then what is not needed any more."""
    old = {letters.get(line.colour, f"-{line.colour}"): line for line in before.shopping}
    new = {line.colour: line for line in after.shopping}
    return tuple(
        BuyChange(
            letter,
            was,
            now,
            _is_short(before, after, was, now),
            _imperial(before, was),
            _imperial(after, now),
        )
        for letter in dict.fromkeys((*new, *old))
        if _amounts(was := old.get(letter)) != _amounts(now := new.get(letter))
    )


def _imperial(content: ReleaseContent, line: BuyTold | None) -> tuple[float, float]:
    """Return the yards and ounces of a line, as the lists of that version print them."""
    if line is None:
        return 0.0, 0.0
    rows = [row for row in cut_rows(content.cutting) if row.colour == line.colour]
    weights = [yarn.grams_per_metre for yarn in content.yarns if yarn.key == line.yarn]
    return yards_and_ounces(rows, sum(weights))


def _amounts(line: BuyTold | None) -> tuple[object, ...]:
    """Return what a line says, whatever its colour's letter is."""
    if line is None:
        return ()
    return line.yarn, line.length_m, line.mass_g, line.balls


def _is_short(
    before: ReleaseContent, after: ReleaseContent, was: BuyTold | None, now: BuyTold | None
) -> bool:
    """Return whether a buyer has too little: who has bought whole balls has what is on them; who
    has not has what the list said."""
    if now is None:
        return False
    if was is None or was.yarn != now.yarn:
        return True
    if was.balls is not None and now.balls is not None and _same_balls(before, after, now.yarn):
        return now.balls > was.balls
    return now.length_m > was.length_m or now.mass_g > was.mass_g


def _same_balls(before: ReleaseContent, after: ReleaseContent, key: str) -> bool:
    yarns = [next(yarn for yarn in content.yarns if yarn.key == key) for content in (before, after)]
    sizes = [(yarn.ball_metres, yarn.ball_grams, yarn.grams_per_metre) for yarn in yarns]
    return sizes[0] == sizes[1]


def more_after_cutting(
    before: ReleaseContent,
    after: ReleaseContent,
    letters: Mapping[str, str],
    changes: Iterable[CutChange],
) -> tuple[MoreToBuy, ...]:
    """Colours of which what stays on the balls, when all is cut by the old list, does not serve
    for the lengths that must be cut besides."""
    more_mm: dict[str, float] = {}
    for change in changes:
        lengths = sum(count * length_mm for count, length_mm in change.more)
        more_mm[change.colour] = more_mm.get(change.colour, 0.0) + lengths
    old = {letters.get(line.colour, ""): line for line in before.shopping}
    new = {line.colour: line for line in after.shopping}
    found = (
        _missing_yarn(before, after, old[letter], new[letter], length_mm)
        for letter, length_mm in more_mm.items()
        if length_mm and letter in old and letter in new
    )
    return tuple(more for more in found if more)


def _missing_yarn(
    before: ReleaseContent, after: ReleaseContent, was: BuyTold, now: BuyTold, more_mm: float
) -> MoreToBuy | None:
    """None where there is enough, or where all of it is another yarn, and bought anew."""
    if was.yarn != now.yarn:
        return None
    left_m = was.left_m if was.left_m is not None and _same_balls(before, after, now.yarn) else 0.0
    missing_m = more_mm / 1000 - left_m
    if missing_m <= 0:
        return None
    yarn = next(yarn for yarn in after.yarns if yarn.key == now.yarn)
    on_a_ball = ball_metres(yarn.ball_metres, yarn.ball_grams, yarn.grams_per_metre)
    balls = whole_up(missing_m / on_a_ball) if on_a_ball else None
    return MoreToBuy(now.colour, whole_up(missing_m), balls)
