"""Follow a part's steps by counting its cords: what can't be done, and how many hang when.

A place in the steps is a way of keys: `(3,)`, or inside a repeat `(3, "steps", 0)`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TypeVar

from publisher.frozen import frozen
from publisher.knots.tying import Tying
from publisher.model.parts import (
    Add,
    Cross,
    Drop,
    Gap,
    Gather,
    PartCord,
    Repeat,
    Step,
    Tie,
    Trim,
    Wrap,
)

MOST_STEPS = 3_000
"""Steps of one part, every repeat counted."""
MOST_ENDS = 19
ROUND_ONE = 3
"""Cords of a knot round a single filler, where the step says `fillers = 1`."""
StepPath = tuple[str | int, ...]
TyingOf = Callable[[str], Tying]
"""The rule of a knot that a step ties, by name."""
Place = TypeVar("Place")


_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight")


@frozen
class StepFault:
    """A fault in a step, and what to do about it."""

    path: StepPath
    message: str
    hint: str


def ends_at_first(cords: Iterable[PartCord]) -> int:
    """Return how many ends hang before the first step."""
    return sum(ends_of(cord.lay) for cord in cords)


def ends_of(lay: str) -> int:
    """Return how many ends of a cord hang."""
    return 1 if lay == "single" else 2


def ends_after(step: Step, count: int) -> int:
    """Return how many ends hang after a step that began with `count`."""
    match step:
        case Drop():
            return count - len(step.on)
        case Add():
            return count + ends_of(step.lay)
        case Repeat():
            for _ in range(step.times):
                for inner in step.steps:
                    count = ends_after(inner, count)
            return count
        case _:
            return count


def order_after(
    step: Step, order: Sequence[Place], tying: TyingOf, added: Sequence[Place] = ()
) -> list[Place]:
    """Return what lies where after a step that is no repeat. `added`: the ends that it lays in."""
    lies = list(order)
    match step:
        case Tie(leader=int() as start) | Tie(worker=int() as start):
            travels = lies.pop(start - 1)
            first = min(start, *step.on) - 1
            met = lies[first : first + len(step.on)]
            if tying(step.knot).gathers:
                met = met[::-1]  # the first one gathered lies next to the leader
            run = [*met, travels] if start < step.on[0] else [travels, *met]
            lies[first : first + len(met)] = run
        case Tie(on=on):
            first, last = min(on) - 1, max(on)
            out = tying(step.knot).order_out(len(on), step.facing)
            for _ in range(step.times):
                came = lies[first:last]
                lies[first:last] = [came[place - 1] for place in out]
        case Cross():
            one, other = step.front - 1, step.back - 1
            lies[one], lies[other] = lies[other], lies[one]
        case Drop():
            lies = [end for place, end in enumerate(lies, 1) if place not in step.on]
        case Add(lay="across"):
            lies = [added[0], *lies, added[1]]
        case Add():
            lies[step.at - 1 : step.at - 1] = added
        case _:
            pass
    return lies


def knots_tied(steps: Iterable[Step]) -> set[str]:
    """The names of the knots that steps tie."""
    found: set[str] = set()
    for step in steps:
        if isinstance(step, Repeat):
            found |= knots_tied(step.steps)
        elif isinstance(step, Tie):
            found.add(step.knot)
    return found


def steps_in_all(steps: Iterable[Step]) -> int:
    """Return how many steps are worked, every repeat counted."""
    return sum(
        step.times * steps_in_all(step.steps)
        if isinstance(step, Repeat)
        else max(1, step.times if isinstance(step, Tie) else 1)
        for step in steps
    )


def find_faults(steps: Sequence[Step], ends: int, tying: TyingOf) -> list[StepFault]:
    """The faults of a part's steps, on which so many ends hang at first: the first of each step."""
    follower = _Follower(ends, tying)
    follower.walk(steps, ())
    return follower.faults


class _Follower:
    """Walks steps in order, with the ends that hang, each by a number of its own; those that are
    trimmed; and whether any was dropped. `seen`: the steps in which something was found."""

    def __init__(self, ends: int, tying: TyingOf) -> None:
        self.tying = tying
        self.order = list(range(ends))
        self.known = ends
        self.trimmed: set[int] = set()
        self.dropped = False
        self.seen: set[StepPath] = set()
        self.faults: list[StepFault] = []

    def walk(self, steps: Sequence[Step], above: StepPath) -> None:
        for index, step in enumerate(steps):
            path = (*above, index)
            if isinstance(step, Repeat):
                for _ in range(step.times):
                    self.walk(step.steps, (*path, "steps"))
                continue
            self._note(path, _faults(step, len(self.order), self.dropped, self.tying))
            self._note(path, self._cut_off(step) if path not in self.seen else iter(()))
            if path not in self.seen:
                self._work(step)

    def _work(self, step: Step) -> None:
        if isinstance(step, Trim):
            self.trimmed |= {self.order[p - 1] for p in step.on} or set(self.order)
        ends = ends_of(step.lay) if isinstance(step, Add) else 0
        added = [self.known + k for k in range(ends)]
        self.known += ends
        self.order = order_after(step, self.order, self.tying, added)
        self.dropped = self.dropped or isinstance(step, Drop)

    def _cut_off(self, step: Step) -> Iterator[tuple[str, str]]:
        """Cords that were trimmed, and are used again."""
        if isinstance(step, Drop):
            return
        for position in _positions(step):
            if self.order[position - 1] in self.trimmed:
                hint = "trim it in a later step, when nothing more is done with it"
                yield f"cord {position} was trimmed before", hint

    def _note(self, path: StepPath, found: Iterator[tuple[str, str]]) -> None:
        if path in self.seen:
            return
        for message, hint in found:
            self.seen.add(path)
            self.faults.append(StepFault(path, message, hint))
            return


def _faults(step: Step, count: int, dropped: bool, tying: TyingOf) -> Iterator[tuple[str, str]]:
    yield from _strangers(_positions(step), count, dropped)
    match step:
        case Tie():
            yield from _tie_faults(step, tying(step.knot))
        case Cross() if abs(step.front - step.back) != 1:
            hint = "cross them one after another, each with the cord beside it"
            yield f"cords {step.front} and {step.back} don't lie side by side", hint
        case Gather() | Wrap():
            yield from _parted(step.on)
        case Drop() if len(step.on) == count:
            yield "no cord is left after this", "leave one to go on with, or take the step out"
        case Add() if not 1 <= step.at <= count + 1:
            yield f"a new cord can't hang at {step.at}", f"choose a place from 1 to {count + 1}"
        case Add() if count + ends_of(step.lay) > MOST_ENDS:
            yield f"that makes more than {MOST_ENDS} cords", "part the work into two pieces"
        case _:
            pass


def _positions(step: Step) -> tuple[int, ...]:
    """Every position that a step names, in its order."""
    match step:
        case Tie():
            others = [p for p in (step.leader, step.worker) if p is not None]
            return (*others, *step.on)
        case Cross():
            return step.front, step.back
        case Gap() | Gather() | Drop() | Wrap() | Trim():
            return step.on
        case _:
            return ()


def _strangers(on: Sequence[int], count: int, dropped: bool) -> Iterator[tuple[str, str]]:
    """Cords that are not there, or are named twice."""
    missing = [p for p in on if not 1 <= p <= count]
    numbers = f"from 1 to {count}" if count > 1 else "1"
    if missing and dropped:
        message = f"cord {missing[0]} is not there any more: after the drop, {_hang(count)}"
        hint = f"count again from the left, {numbers}" if count > 1 else "name cord 1"
        yield message, f"{hint}, or drop the cord later"
    elif missing:
        yield (
            f"there is no cord {missing[0]}: {_hang(count)}",
            f"number them from the left: {numbers}",
        )
    elif len({*on}) < len(on):
        twice = next(p for p in on if on.count(p) > 1)
        yield f"cord {twice} is named twice", "name every cord once"


def _hang(count: int) -> str:
    return "one cord hangs" if count == 1 else f"{count} cords hang"


def _tie_faults(step: Tie, rule: Tying) -> Iterator[tuple[str, str]]:
    given = {"leader": step.leader, "worker": step.worker}
    for word, position in given.items():
        if position is not None and rule.travels != word:
            yield f'"{step.knot}" has no {word}', _example(rule)
    if rule.travels and given[rule.travels] is None:
        yield f'"{step.knot}" needs a {rule.travels}', _example(rule)
    least = ROUND_ONE if rule.around else rule.least
    if not least <= len(step.on) <= rule.most:
        yield too_few_or_many(step.knot, rule, len(step.on))
    travels = given[rule.travels] if rule.travels else None
    if travels is not None:
        yield from _out_of_reach(step.on, travels)
    else:
        yield from _parted(step.on)


def too_few_or_many(knot: str, rule: Tying, count: int) -> tuple[str, str]:
    """A knot on the wrong number of cords."""
    limit = rule.least if count < rule.least else rule.most
    verb = "needs" if rule.least == rule.most or count < rule.least else "takes at most"
    cords = "cord" if limit == 1 else "cords"
    message = f'"{knot}" {verb} {_word(limit)} {cords}, not {_word(count)}'
    return message, _example(rule)


def _word(count: int) -> str:
    return _NUMBERS[count] if count < len(_NUMBERS) else str(count)


def _example(rule: Tying) -> str:
    if rule.travels:
        return f"write it like {rule.travels} = 1, on = [2, 3]"
    on = ", ".join(str(p) for p in range(1, rule.least + 1))
    return f"write it like on = [{on}]"


def _parted(on: Sequence[int]) -> Iterator[tuple[str, str]]:
    """Cords that are not side by side, or not named from the left."""
    if list(on) == list(range(on[0], on[0] + len(on))):
        return
    if sorted(on) == list(range(min(on), min(on) + len(on))):
        yield "these cords are not named from the left", f"write on = {sorted(on)}"
        return
    one, other = next((a, b) for a, b in zip(sorted(on), sorted(on)[1:], strict=False) if b > a + 1)
    hint = "name the cords between them too, or cross cords until they do"
    yield f"cords {one} and {other} don't lie side by side", hint


def _out_of_reach(on: Sequence[int], start: int) -> Iterator[tuple[str, str]]:
    """A leader or a worker goes from cord to cord, and can't pass one over."""
    way = 1 if on[0] > start else -1
    wanted = [start + way * step for step in range(1, len(on) + 1)]
    if list(on) != wanted:
        message = f"from cord {start}, this is not the order in which the cords are met"
        if sorted(on) == sorted(wanted):
            yield message, f"write on = {wanted}"
        else:
            yield message, "name every cord on its way, the nearest first"
