"""Steps on numbered cords: what can be worked is taken, what can't is told, mirrors mirror."""

from __future__ import annotations

import dataclasses

import pytest
from hypothesis import given

from publisher.model.parts import (
    Add,
    Cross,
    Drop,
    Gap,
    PartCord,
    Repeat,
    Step,
    StepsPiece,
    Tie,
    Trim,
)
from publisher.source.follow import ends_after, ends_at_first, find_faults
from publisher.source.mirror import for_left_hand, mirrored_part
from tests.support.parts import LEAF_STEPS, part, parts, pattern_of, tying


def faults_of(*steps: Step, ends: int = 6) -> list[str]:
    return [fault.message for fault in find_faults(steps, ends, tying)]


def test_the_leaf_can_be_worked() -> None:
    assert faults_of(*LEAF_STEPS, ends=10) == []


@pytest.mark.parametrize(
    ("step", "told"),
    [
        (Tie(knot="berry-knot", on=(1, 2, 3)), '"berry-knot" needs four cords, not three'),
        (
            Tie(knot="pair-tied-double-knot", on=(1,)),
            '"pair-tied-double-knot" needs two cords, not one',
        ),
        (Tie(knot="square-knot", on=(1, 2, 3, 4, 5, 6, 7)), "there is no cord 7: 6 cords hang"),
        (Tie(knot="square-knot", on=(1, 2, 3, 3)), "cord 3 is named twice"),
        (Tie(knot="overhand", on=(1, 3)), "cords 1 and 3 don't lie side by side"),
        (Tie(knot="overhand", on=(2, 1)), "these cords are not named from the left"),
        (Cross(front=2, back=4), "cords 2 and 4 don't lie side by side"),
        (Drop(on=(1, 2, 3, 4, 5, 6)), "no cord is left after this"),
        (Add(colour="G", lay="single", at=8), "a new cord can't hang at 8"),
        (Gap(gap_mm=5, on=(7,)), "there is no cord 7: 6 cords hang"),
    ],
)
def test_what_cannot_be_worked_is_told(step: Step, told: str) -> None:
    assert faults_of(step) == [told]


def test_a_dropped_cord_is_not_there_any_more() -> None:
    (told,) = faults_of(Drop(on=(2,)), Tie(knot="overhand", on=(6,)))
    assert told == "cord 6 is not there any more: after the drop, 5 cords hang"


def test_a_trimmed_cord_is_not_used_again_wherever_it_lies_by_then() -> None:
    steps = (Trim(trim_mm=10, on=(1,)), Cross(front=2, back=3), Tie(knot="overhand", on=(1, 2)))
    assert faults_of(*steps) == ["cord 1 was trimmed before"]
    crossed = (Cross(front=1, back=2), Trim(trim_mm=10, on=(2,)), Tie(knot="overhand", on=(1,)))
    assert faults_of(*crossed) == []


def test_a_repeat_is_followed_in_every_pass() -> None:
    twice = Repeat(times=2, steps=(Drop(on=(1,)), Tie(knot="overhand", on=(5,))))
    (fault,) = find_faults([twice], 6, tying)
    assert fault.path == (0, "steps", 1), "the second pass has only four cords left"


@given(parts())
def test_random_legal_steps_have_no_faults(piece: StepsPiece) -> None:
    assert find_faults(piece.steps, ends_at_first(piece.cords), tying) == []


def _written_out(steps: tuple[Step, ...], count: int) -> tuple[Step, ...]:
    """Repeats that change how many cords hang come back written out: both say the same."""
    found: list[Step] = []
    for step in steps:
        after = ends_after(step, count)
        if isinstance(step, Repeat) and after != count:
            found += step.steps * step.times
        else:
            found.append(step)
        count = after
    return tuple(found)


@given(parts())
def test_a_mirror_twice_is_the_part_itself(piece: StepsPiece) -> None:
    twice = mirrored_part(mirrored_part(piece))
    assert twice.steps == _written_out(piece.steps, ends_at_first(piece.cords))


@given(parts())
def test_the_mirror_of_legal_steps_is_legal(piece: StepsPiece) -> None:
    other = mirrored_part(piece)
    assert find_faults(other.steps, ends_at_first(other.cords), tying) == []
    assert [cord.lay for cord in piece.cords if cord.on is None] == [
        cord.lay for cord in reversed([c for c in other.cords if c.on is None])
    ]


def test_words_of_a_repeat_that_is_written_out_are_kept() -> None:
    """Each pass drops a cord, so that from the other side no pass is like the one before."""
    inner = (Tie(knot="overhand", on=(1, 2)), Drop(on=(1,), note="Lay it at the back."))
    steps = (Repeat(times=2, steps=inner, note="Leave the rest hanging."), Gap(gap_mm=5))
    mirror = mirrored_part(part((PartCord("G", "single"),) * 4, steps))
    assert [step.note for step in mirror.steps] == [
        "",
        "Lay it at the back.",
        "",
        "Lay it at the back. Leave the rest hanging.",
        "",
    ]


def test_a_left_handed_pattern_has_its_parts_mirrored() -> None:
    other = for_left_hand(pattern_of(part())).parts[0]
    first_run, second_run, *_, tie, _ = other.steps
    assert dataclasses.replace(tie, note="") == Tie(
        knot="square-knot", on=(4, 5, 6, 7), facing="right"
    )
    assert (first_run.leader, first_run.on) == (10, (9, 8, 7, 6))  # type: ignore[union-attr]
    assert (second_run.leader, second_run.on) == (1, (2, 3, 4, 5))  # type: ignore[union-attr]
