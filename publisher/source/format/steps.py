"""The tables of a piece of steps: its cords, and the steps that are worked on them."""

from __future__ import annotations

from typing import Any, Literal

from publisher.frozen import frozen
from publisher.knots.defaults import defaults
from publisher.knots.load import names_of_ours
from publisher.model.parts import Facing, Lay
from publisher.source.format.parts import MOUNTING_KNOT
from publisher.source.format.pieces import allowance
from publisher.tables.schema import (
    SLUG,
    THINNEST_BAR_MM,
    choice,
    key,
    letter,
    line,
    number,
    optional,
    rows_of,
    slug,
    some,
    table_schema,
    whole,
    word_or_own,
)

_MOST_POSITIONS = 19
_STEPS = f'steps = [{{ tie = "{defaults().example}", on = [1, 2, 3, 4] }}]'
_LAYS = ("across", "folded", "single")


def _positions(says: str, example: str) -> Any:
    return optional(some(whole(1, 99), _MOST_POSITIONS), says, example)


@frozen(kw_only=True)
class BarTable:
    """`mount = { on = "split ring", diameter_mm = 2 }`"""

    on: str = key(
        line(60),
        "What the first cords are mounted on, as it is printed in the list of fittings.",
        'on = "split ring"',
        stand_in="a ring",
    )
    diameter_mm: float = key(
        number(THINNEST_BAR_MM, 200),
        "How thick that is where the cords go round it, in mm.",
        "diameter_mm = 2",
        stand_in=1.0,
    )


@frozen(kw_only=True)
class PartCordTable:
    """`{ colour = "G", lay = "folded", on = 1, count = 2 }`"""

    colour: str = key(letter(), "The letter of the cord's colour.", 'colour = "G"', stand_in="")
    lay: Lay = key(
        choice(*_LAYS),
        "across: both halves hang; folded: mounted by its fold; single: hangs by one end.",
        'lay = "folded"',
        usual="folded",
    )
    on: int | None = optional(
        whole(1, 99),
        "For a folded cord: the number of the cord laid across that it is mounted on.",
        "on = 1",
    )
    knot: str | None = optional(
        MOUNTING_KNOT,
        "The knot that a folded cord is mounted with.",
        f'knot = "{defaults().mount}"',
    )
    count: int = key(whole(1, 19), "How many of it, side by side.", "count = 2", usual=1)


@frozen(kw_only=True)
class AddTable:
    """`add = { colour = "W", lay = "folded", at = 3 }`"""

    colour: str = key(letter(), "The letter of the new cord's colour.", 'colour = "W"', stand_in="")
    lay: Lay = key(
        choice(*_LAYS),
        "folded: both its ends hang from `at` on; single: one end; across: the outermost two.",
        'lay = "folded"',
        usual="folded",
    )
    at: int = key(whole(1, 99), "Where it hangs: its place from the left.", "at = 3", usual=1)


@frozen(kw_only=True)
class PlainStepTable:
    """`{ tie = …, on = [2, 3, 4, 5] }`, or any other step but a repeat"""

    tie: str | None = optional(
        word_or_own(SLUG, lambda: names_of_ours(lambda knot: knot.tying)),
        "A knot to tie: one of ours, or one of your own by the name of its file.",
        f'tie = "{defaults().example}"',
    )
    on: list[int] | None = _positions(
        "The cords that it is done on, by place.", "on = [2, 3, 4, 5]"
    )
    leader: int | None = optional(
        whole(1, 99), "The cord that others are hitched round, by place.", "leader = 1"
    )
    worker: int | None = optional(
        whole(1, 99), "The cord that is hitched round others, by place.", "worker = 1"
    )
    facing: Facing | None = optional(
        choice("left", "right"),
        "The side that a square or half knot begins from.",
        'facing = "left"',
    )
    fillers: int | None = optional(
        whole(1, 4), "How many cords a square knot goes round: said for one.", "fillers = 1"
    )
    times: int | None = optional(
        whole(1, 500), "How many of the knot, one below the other.", "times = 6"
    )
    gap_mm: float | None = optional(
        number(1, 2_000), "Leave so much without a knot.", "gap_mm = 10"
    )
    cross: list[int] | None = optional(
        some(whole(1, 99), 2, least=2),
        "Two neighbours that change places, the one in front first.",
        "cross = [2, 3]",
    )
    gather: list[int] | None = _positions("Cords to draw together.", "gather = [2, 3, 4]")
    drop: list[int] | None = _positions(
        "Cords to lay aside: they are not counted any more.", "drop = [4]"
    )
    add: AddTable | None = optional(
        table_schema(AddTable),
        "A new cord to lay in.",
        'add = { colour = "W", lay = "folded", at = 3 }',
        one="new cord",
    )
    wrap: list[int] | None = _positions(
        "Cords to wrap with a cord of its own.", "wrap = [1, 2, 3, 4]"
    )
    turns: int | None = optional(whole(2, 200), "How many turns to wrap.", "turns = 7")
    colour: str | None = optional(letter(), "The wrapping cord's letter.", 'colour = "G"')
    trim_mm: float | None = optional(
        number(0, 2_000), "Cut ends so far below the last knot.", "trim_mm = 20"
    )
    glue: str | None = optional(
        line(200), "What to glue, in your words.", 'glue = "the ends to the back"'
    )
    sew: str | None = optional(line(200), "What to sew, in your words.", 'sew = "the rim together"')
    note: str = key(
        line(400, 0),
        "Your own words, printed after the step's.",
        'note = "Pull both halves alike."',
        usual="",
    )


@frozen(kw_only=True)
class StepTable(PlainStepTable):
    """Any step: one of the plain ones, or a repeat of some of them"""

    repeat: int | None = optional(
        whole(2, 500), "How often in all to work the steps.", "repeat = 3"
    )
    steps: list[PlainStepTable] | None = optional(
        some(table_schema(PlainStepTable), 100),
        "The steps that are repeated.",
        _STEPS,
        one="repeated step",
    )


@frozen(kw_only=True)
class StepsTable:
    """`[[pieces]]` of `kind = "steps"`"""

    id: str = key(
        slug(), "The piece's short name; no other piece has it.", 'id = "reed-leaf"', stand_in=""
    )
    kind: Literal["steps"] = key(
        choice("steps"), "What the piece is made from.", 'kind = "steps"', stand_in="steps"
    )
    make: int = key(whole(1, 1_000), "How many of it are made.", "make = 7", usual=1)
    mount: BarTable | None = optional(
        table_schema(BarTable),
        "What cords that are not mounted on another cord are mounted on.",
        'mount = { on = "split ring", diameter_mm = 2 }',
    )
    cords: list[PartCordTable] = key(
        rows_of(table_schema(PartCordTable), 1),
        "The cords from the left, each one laid across before those mounted on it.",
        'cords = [{ colour = "G", lay = "across" }]',
        stand_in=[],
    )
    steps: list[StepTable] = key(
        rows_of(table_schema(StepTable), 1),
        "What is done, step by step; cords go by their place from the left at that moment.",
        _STEPS,
        stand_in=[],
    )
    tail_mm: float = key(
        number(0, 1_000),
        "What is left of each end to hold while you knot, in mm.",
        "tail_mm = 100",
        usual=100.0,
    )
    allowance_percent: float | None = allowance()
    seconds_per_knot: float | None = optional(
        number(1, 3_600),
        "Your own time for one knot, in seconds; without it no time is printed.",
        "seconds_per_knot = 40",
    )
