"""Turn a part into its mirror image: for a maker who works from the other side."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from publisher.model.parts import (
    Add,
    Cross,
    Drop,
    Gap,
    Gather,
    PartCord,
    Repeat,
    Step,
    StepsPiece,
    Tie,
    Trim,
    Wrap,
)
from publisher.model.pattern import Pattern, Piece
from publisher.source.follow import ends_after, ends_at_first


def mirrored_part(piece: StepsPiece) -> StepsPiece:
    """Left and right change places: cords, positions, and the way that knots face."""
    count = ends_at_first(piece.cords)
    return replace(piece, cords=_cords(piece.cords), steps=_steps(piece.steps, count))


def _cords(cords: Sequence[PartCord]) -> tuple[PartCord, ...]:
    """Cords numbered from the other side: those on one bar in the reverse order, bars too."""
    blocks: list[list[int]] = []
    for number, cord in enumerate(cords, 1):
        if cord.on is None:
            blocks.append([number])
        else:
            next(block for block in blocks if block[0] == cord.on).append(number)
    order = [number for block in reversed(blocks) for number in (block[0], *reversed(block[1:]))]
    new = {old: index for index, old in enumerate(order, 1)}
    return tuple(
        replace(cords[old - 1], on=None if (on := cords[old - 1].on) is None else new[on])
        for old in order
    )


def _steps(steps: Iterable[Step], count: int) -> tuple[Step, ...]:
    found: list[Step] = []
    for step in steps:
        after = ends_after(step, count)
        if isinstance(step, Repeat):
            found += _repeated(step, count, after)
        else:
            found.append(_step(step, count))
        count = after
    return tuple(found)


def _repeated(step: Repeat, count: int, after: int) -> Iterable[Step]:
    """Mirror a repeat. Where every pass leaves fewer or more cords, its positions differ from pass
    to pass when they are counted from the other side: then each pass is written out, and the
    repeat's own words stand at the end."""
    if after == count:
        return (replace(step, steps=_steps(step.steps, count)),)
    *steps, last = _steps(step.steps * step.times, count)
    return (*steps, replace(last, note=" ".join(filter(None, (last.note, step.note)))))


def _step(step: Step, count: int) -> Step:
    def over(position: int) -> int:
        return count + 1 - position

    match step:
        case Tie():
            travels = step.leader is not None or step.worker is not None
            return replace(
                step,
                on=tuple(map(over, step.on)) if travels else _from_left(step.on, count),
                leader=None if step.leader is None else over(step.leader),
                worker=None if step.worker is None else over(step.worker),
                facing="right" if step.facing == "left" else "left",
            )
        case Cross():
            return replace(step, front=over(step.front), back=over(step.back))
        case Gap() | Gather() | Drop() | Wrap() | Trim():
            return replace(step, on=_from_left(step.on, count))
        case Add() if step.lay != "across":
            return replace(step, at=count + 2 - step.at)
        case _:
            return step


def _from_left(on: Sequence[int], count: int) -> tuple[int, ...]:
    return tuple(count + 1 - position for position in reversed(on))


def for_left_hand(pattern: Pattern) -> Pattern:
    """Return the pattern for a maker who works from the other side.

    The picture stays; each first row starts at the other edge, and the parts are mirrored.
    """
    return replace(pattern, pieces=tuple(_other_hand(piece) for piece in pattern.pieces))


def _other_hand(piece: Piece) -> Piece:
    if isinstance(piece, StepsPiece):
        return mirrored_part(piece)
    return replace(piece, first_row_from="right" if piece.first_row_from == "left" else "left")
