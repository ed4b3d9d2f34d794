"""Lay a part's steps out one after another: knots in place, cords crossed, added, wrapped, cut."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from publisher.drawing.part.body import Body, Path, knot_body, moved
from publisher.drawing.part.lay import LEAST_LEAD, SNUG, Cut, Lay
from publisher.drawing.part.runs import lay_leader_run, lay_worker_run
from publisher.frozen import frozen
from publisher.knots import Knot
from publisher.knots.curve import Point
from publisher.model.part_plan import Leg, PartStep

SHOWN = 3
"""Of a row of the same knot one below the other, no more than this many are drawn."""
LONGEST_GAP = 5.0
LONGEST_END = 4.0
_TURN = 1.02
_MOST_TURNS = 8
_BUNDLE = 0.85
"""How much larger an overhand knot of several cords is drawn, by cord."""

Knots = Callable[[str], Knot]


@frozen
class Layer:
    """Lays steps out. `whole`: nothing is left out, as in the picture of the finished part."""

    lay: Lay
    knots: Knots
    whole: bool = False

    def step(self, step: PartStep) -> None:
        deeds: dict[str, Callable[[PartStep], None]] = {
            "tie": self._tie,
            "gap": self._gap,
            "cross": self._cross,
            "gather": lambda done: self.lay.snug(done.legs),
            "drop": self._drop,
            "add": self._add,
            "wrap": self._wrap,
            "trim": self._trim,
        }
        if step.kind in deeds:
            deeds[step.kind](step)
        self.lay.order = list(step.after)

    def _tie(self, step: PartStep) -> None:
        knot = self.knots(step.knot)
        if step.leader is not None:
            lay_leader_run(self.lay, step, knot)
        elif step.worker is not None:
            lay_worker_run(self.lay, step, knot)
        else:
            self._tie_down(step, knot)

    def _tie_down(self, step: PartStep, knot: Knot) -> None:
        """A knot on legs side by side, over and over."""
        legs, body = step.legs, self._body(step, knot)
        out = body.out if body else tuple(range(len(legs)))
        left_out = step.times > SHOWN and not self.whole
        count = _shown(legs, out, step.after) if left_out else step.times
        for index in range(count):
            if left_out and index == count - 1:
                self.lay.part(self.lay.order)
            if body:
                self.lay.tie(legs, body)
            elif knot.tying.form == "pair":
                self._reef(legs, knot)
            else:
                self._overhand(legs, knot)
            legs = tuple(legs[way] for way in out)
            if self.whole and len(legs) == len(self.lay.order):
                self.lay.seal()

    def _body(self, step: PartStep, knot: Knot) -> Body | None:
        """The body of a knot that is drawn as its file has it; the others are drawn here."""
        if knot.tying.form != "hanging":
            return None
        fillers = len(step.legs) - 2 if knot.tying.around else None
        return knot_body(knot, fillers, mirrored=step.facing == "right")

    def _overhand(self, legs: Sequence[Leg], knot: Knot) -> None:
        """Tie all cords, side by side, along the way of one."""
        lay, size = self.lay, max(1.0, _BUNDLE * len(legs))
        if len(legs) > 1:
            lay.snug(legs)
        body = knot_body(knot)
        (way,) = body.ways
        middle = sum(lay.at(leg).x for leg in legs) / len(legs)
        top = lay.lowest(legs) + LEAST_LEAD
        for index, leg in enumerate(legs):
            aside = (index - (len(legs) - 1) / 2) * SNUG * 0.9
            beside = _beside(_sized(way, size, body.top), aside)
            lay.lead(leg, moved(beside, middle, top))
            lay.drop_to(leg, middle + aside, lay.lowest([leg]) + LEAST_LEAD)
        lay.moving.update(legs)

    def _reef(self, legs: Sequence[Leg], knot: Knot) -> None:
        """Two cords, each of which comes in and goes out on its own side."""
        lay, body = self.lay, knot_body(knot)
        left, right = legs
        middle = (lay.at(left).x + lay.at(right).x) / 2
        y = lay.lowest(legs) + 2.4
        for leg, way, side in ((left, body.ways[0], -1), (right, body.ways[-1], 1)):
            inner = [point for point in way if abs(point.x) < 2.6]
            lay.lead(leg, moved(inner, middle, y))
            lay.drop_to(leg, middle + side * 1.0, y + 3.0)
        lay.moving.update(legs)

    def _gap(self, step: PartStep) -> None:
        lay = self.lay
        length = step.length_mm / lay.unit_mm
        bottom = lay.lowest(step.legs) + (length if self.whole else min(length, LONGEST_GAP))
        for leg in step.legs:
            lay.drop_to(leg, lay.at(leg).x, bottom)
        lay.moving.update(step.legs)

    def _cross(self, step: PartStep) -> None:
        lay, (front, back) = self.lay, step.legs
        places = {front: lay.at(back).x, back: lay.at(front).x}
        y = lay.lowest(step.legs) + max(1.6, abs(places[front] - places[back]))
        for leg, height in ((front, 0.55), (back, -0.55)):
            start = lay.at(leg)
            half = Point((start.x + places[leg]) / 2, (lay.lowest(step.legs) + y) / 2, height)
            lay.drop_to(leg, start.x, lay.lowest(step.legs) if start.y < y - 1.6 else start.y)
            lay.lead(leg, [half])
        for leg, x in places.items():
            lay.drop_to(leg, x, y)
        lay.moving.update(step.legs)

    def _drop(self, step: PartStep) -> None:
        """They stay behind, and end."""
        lay = self.lay
        for leg in step.legs:
            at = lay.at(leg)
            lay.drop_to(leg, at.x, at.y + 1.6, -1.2)
            lay.ended.add(leg)
        lay.moving.update(step.legs)

    def _add(self, step: PartStep) -> None:
        lay = self.lay
        level = lay.lowest(step.before)
        xs = [lay.at(leg).x for leg in step.before]
        if len(step.legs) == 1:
            x = _between(step, xs)
            lay.begin(step.legs[0], [Point(x, level - 2.6, -0.8, 90)])
            lay.drop_to(step.legs[0], x, level)
        else:
            across = step.on[-1] - step.on[0] > 1
            middle = (min(xs) + max(xs)) / 2 if across else _between(step, xs)
            reach = (max(xs) - min(xs)) / 2 + 2.0 if across else 0.55
            rise, height = (0.0, 1.1) if across else (-2.0, -0.9)
            for leg, side in zip(step.legs, (-1, 1), strict=True):
                heading = 90.0 - 90 * side
                top = Point(middle, level + rise + (1.0 if across else 0), height, heading)
                lay.begin(leg, [top])
                if across:
                    lay.lead(leg, [Point(middle + side * (reach - 1.4), top.y, height, heading)])
                lay.drop_to(leg, middle + side * reach, level + (2.4 if across else 0.2))
        lay.moving.update(step.legs)

    def _wrap(self, step: PartStep) -> None:
        """A coil round the legs, the turns one below the other."""
        lay, legs = self.lay, step.legs
        lay.snug(legs, min(SNUG, 4.0 / len(legs)))
        turns = step.turns if self.whole else min(step.turns, _MOST_TURNS)
        middle = sum(lay.at(leg).x for leg in legs) / len(legs)
        half = (lay.at(legs[-1]).x - lay.at(legs[0]).x) / 2 + 0.75
        top = lay.lowest(legs) + 0.9
        wrap = Leg(step.cord or 0, "only")
        lay.extra.append((wrap, _coil(middle, top, half, turns)))
        for leg in legs:
            lay.drop_to(leg, lay.at(leg).x, top + turns * _TURN + 0.9)
        lay.moving.update(legs)

    def _trim(self, step: PartStep) -> None:
        lay = self.lay
        legs = [leg for leg in step.legs if leg in lay.ways and leg not in lay.ended]
        if not legs:
            return
        length = step.length_mm / lay.unit_mm
        length = max(0.35, length if self.whole else min(length, LONGEST_END))
        lay.ended.update(legs)
        if self.whole:  # every end below its own last knot: those of a slanting row keep its slant
            for leg in legs:
                lay.drop_to(leg, lay.at(leg).x, lay.at(leg).y + length)
            return
        for group in _neighbours(legs, lay.order):
            bottom = lay.lowest(group) + length
            for leg in group:
                lay.drop_to(leg, lay.at(leg).x, bottom)
            xs = [lay.at(leg).x for leg in group]
            lay.cuts.append(Cut(min(xs) - 0.9, max(xs) + 0.9, bottom))


def _shown(legs: tuple[Leg, ...], out: Sequence[int], after: Sequence[Leg]) -> int:
    """Return how many of many knots are drawn: so many that the legs lie as they do after all of
    them."""
    last = tuple(leg for leg in after if leg in legs)
    right = []
    for count in range(1, SHOWN + 1):
        legs = tuple(legs[way] for way in out)
        right += [count] if legs == last else []
    return max(right, default=SHOWN)


def _between(step: PartStep, xs: Sequence[float]) -> float:
    """Return where a new cord hangs: half way between those that it comes between."""
    at = step.on[0] - 1
    if at == 0:
        return xs[0] - SNUG
    return xs[-1] + SNUG if at >= len(xs) else (xs[at - 1] + xs[at]) / 2


def _neighbours(legs: Sequence[Leg], order: Sequence[Leg]) -> list[list[Leg]]:
    """Legs that hang side by side, together."""
    groups: list[list[Leg]] = []
    for leg in sorted(legs, key=order.index):
        if groups and order.index(groups[-1][-1]) == order.index(leg) - 1:
            groups[-1].append(leg)
        else:
            groups.append([leg])
    return groups


def _sized(way: Path, size: float, top: float) -> Path:
    """A way through a knot drawn larger, from its top."""
    return tuple(
        [Point(p.x * size, (p.y - top) * size, p.z * size, p.heading, p.mark) for p in way]
    )


def _beside(way: Path, aside: float) -> Path:
    """A way beside another, so far to its left as one goes along it."""
    if not aside:
        return way
    found = []
    for index, point in enumerate(way):
        before, after = way[max(0, index - 1)], way[min(len(way) - 1, index + 1)]
        along = after.xy - before.xy
        side = along / abs(along) * complex(0, -1) if along else complex(1, 0)
        place = point.xy + side * aside
        found.append(point._replace(x=place.real, y=place.imag))
    return tuple(found)


def _coil(middle: float, top: float, half: float, turns: int) -> list[Point]:
    """Turns that show at the front as slanting bars, one below the other."""
    points = [Point(middle - half * 0.2, top - 0.6, -1.2)]
    for turn in range(turns):
        y = top + turn * _TURN
        points += [
            Point(middle - half, y, -0.2),
            Point(middle, y + 0.2, 1.4),
            Point(middle + half, y + 0.45, -0.2),
            Point(middle, y + 0.75, -1.4),
        ]
    return points
