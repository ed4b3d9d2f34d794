"""The tables of putting pieces together."""

from __future__ import annotations

from publisher.frozen import frozen
from publisher.model.parts import Deed, Hold
from publisher.tables.schema import choice, key, line, number, optional, table_schema, whole


@frozen(kw_only=True)
class TargetTable:
    """`at = { piece = "panel", row = 12, cord = 8 }`"""

    piece: str = key(
        line(100), "The id of the piece that it goes on.", 'piece = "panel"', stand_in=""
    )
    row: int | None = optional(whole(1, 5_000), "The row of a chart.", "row = 12")
    cord: int | None = optional(whole(1, 2_000), "The cord of a chart.", "cord = 8")


@frozen(kw_only=True)
class AssemblyTable:
    """`[[assembly]]`"""

    do: Deed = key(choice("sew", "glue", "hang"), "What is done.", 'do = "sew"', stand_in="hang")
    piece: str = key(
        line(100), "The id of the piece that it is done with.", 'piece = "reed-leaf"', stand_in=""
    )
    count: int = key(whole(1, 1_000), "How many of that piece.", "count = 3", usual=1)
    at: TargetTable | None = optional(
        table_schema(TargetTable),
        "Where it goes.",
        'at = { piece = "panel", row = 12, cord = 8 }',
        one="place",
    )
    turn_degrees: float = key(
        number(-360, 360),
        "How far it leans from upright, clockwise.",
        "turn_degrees = -30",
        usual=0.0,
    )
    hold: Hold = key(
        choice("tails", "top"),
        "Which end of it is fastened: its tails, or the top that it was begun at.",
        'hold = "tails"',
        usual="tails",
    )
    note: str = key(
        line(400, 0),
        "Your own words, printed after the step's.",
        'note = "Under the tall seed head."',
        usual="",
    )
