"""The tables of knots' files and of their word list: each key with what it may hold."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, Literal

from publisher.frozen import frozen
from publisher.knots.model import End, Kind, Role, ViewBox
from publisher.knots.tying import TyingTable
from publisher.tables.schema import (
    Schema,
    after,
    any_name,
    by_name,
    chart_text,
    choice,
    key,
    line,
    number,
    optional,
    rows_of,
    some,
    table_schema,
    text,
    whole,
    word_or,
    yes_or_no,
)

THICKEST = 20.0
"""A strand's diameter at most, in that of the working cord."""
_ROLES: tuple[Role, ...] = ("working", "second", "filler", "leader", "dowel", "guide")
_ANY = number(-1e9, 1e9)


def _folded(value: str) -> str:
    """Paragraph text with its line ends made spaces."""
    return " ".join(value.split())


def _box(value: list[float]) -> ViewBox:
    if value[0] >= value[2] or value[1] >= value[3]:
        raise ValueError("must be a box")
    return ViewBox(*value)


def _said(says: str, example: str) -> Any:
    """A text of a paragraph."""
    return optional(_PARAGRAPH, says, example)


def _list(says: str, example: str, item: Schema | None = None) -> Any:
    return optional(rows_of(item or line(200)), says, example)


_PARAGRAPH = after(_folded, text(5_000))
_PLACE = after(lambda xy: complex(*xy), some(_ANY, 2, least=2))
_VIEW = after(_box, some(_ANY, 4, least=4))


@frozen(slots=False, kw_only=True)
class WordsTable:
    """The words of a knot; what is left out stays as it is."""

    titles: list[str] | None = _list("Its names.", 'titles = ["river hitch"]')
    with_article: str | None = _said("Its name in a sentence.", 'with_article = "a river hitch"')
    abbreviation: str | None = _said("Its name in short.", 'abbreviation = "RH"')
    way: str | None = _said("This hand of it.", 'way = "worked to the right"')
    intro: str | None = _said("What it is.", 'intro = "One turn of *W* round the cord."')
    check: str | None = _said("How it looks when right.", 'check = "The turn lies flat."')
    uses: list[str] | None = _list("What it is tied with.", 'uses = ["working yarn"]')


@frozen(kw_only=True)
class ListedWords(WordsTable):
    """`[square-knot]` in the word list"""

    stages: list[str] | None = _list(
        "What stands under each stage.", 'stages = ["…", "…"]', _PARAGRAPH
    )


@frozen(kw_only=True)
class MirrorWords:
    """The words that change places in a mirror, and those that do when a knot is turned over."""

    sides: list[str] = key(rows_of(line(40)), "Two sides.", 'sides = ["left", "right"]', make=list)
    faces: list[str] = key(
        rows_of(line(40)), "Pairs.", 'faces = ["the front", "the back"]', make=list
    )


@frozen(kw_only=True)
class TiedTable:
    """The part of a knot's file that steps need to tie it"""

    cords_in: list[str] | None = _list("The strands as they come in.", 'cords_in = ["A", "B"]')
    cords_out: list[str] | None = _list("The strands as they go out.", 'cords_out = ["B", "A"]')
    steps: TyingTable | None = optional(table_schema(TyingTable), "How it is tied.", "[steps]")


@frozen(kw_only=True)
class FileTable(TiedTable):
    """Any knot's file"""

    format: int = key(whole(1, 1), "The number of this format.", "format = 1", stand_in=1)
    view: ViewBox | None = optional(_VIEW, "What the picture takes in.", "view = [-6, -6, 6, 6]")
    tight_view: ViewBox | None = optional(
        _VIEW, "The same for the finished knot.", "tight_view = [-4, -5, 4, 5]"
    )
    measures: dict[str, Any] | None = optional({"type": "dict"}, "What it takes.", "[measures]")


@frozen(kw_only=True)
class StrandTable:
    """`[strands.W]`"""

    role: Role = key(choice(*_ROLES), "Its part.", 'role = "working"', stand_in="working")
    label: str = key(line(20, 0), "What is written beside it.", 'label = "W"', usual="")
    label_at: complex | None = optional(_PLACE, "Where that stands.", "label_at = [-5, 1]")
    diameter: float = key(number(0.01, THICKEST), "In working cords.", "diameter = 1.0", usual=1.0)
    points: str = key(
        chart_text(), "Its way.", 'points = """\n-6 0 0\n6 0 0\n"""', stand_in="0 0 0; 0 1 0"
    )
    tight: str | None = optional(
        chart_text(), "The same, tied tight.", 'tight = """\n-6 0 0\n6 0 0\n"""'
    )
    tight_label_at: complex | None = optional(
        _PLACE, "Where the label stands then.", "tight_label_at = [0, 1]"
    )


@frozen(kw_only=True)
class ShowTable:
    """`show.W = { to = "turn" }`"""

    from_: str | None = optional(any_name(), "The mark that it begins at.", 'from = "turn"')
    to: str | None = optional(any_name(), "The mark that it ends at.", 'to = "turn"')
    lead: str | None = optional(chart_text(), "Points before that.", 'lead = "3 -3 0"')
    tail: str | None = optional(chart_text(), "Points after that.", 'tail = "3 -3 0"')
    still: bool | None = optional(yes_or_no(), "Whether it only waits.", "still = true")
    arrow: End | Literal["none", "both"] | None = optional(
        choice("none", "start", "end", "both"), "The ends with an arrow.", 'arrow = "both"'
    )


@frozen(kw_only=True)
class StageTable:
    """`[[stages]]`"""

    show: Mapping[str, ShowTable | Literal[False]] = key(
        by_name(any_name(), word_or([False], table_schema(ShowTable))),
        "The strands that are seen.",
        'show.W = { to = "turn" }',
        make=dict,
    )
    labels: Mapping[str, complex | Literal[False]] = key(
        by_name(any_name(), word_or([False], _PLACE)),
        "Labels elsewhere.",
        "labels.W = [0, 1]",
        make=dict,
    )
    view: ViewBox | None = optional(_VIEW, "What the picture takes in.", "view = [-6, -6, 6, 6]")
    finished: bool = key(
        yes_or_no(), "Whether it shows the tight form.", "finished = true", usual=False
    )


@frozen(kw_only=True)
class OwnStageTable(StageTable):
    """`[[stages]]` of a writer's own knot"""

    words: str = key(_PARAGRAPH, "What stands under it.", 'words = "Pull snug."', stand_in="")


def _stages(table: type) -> Any:
    return key(rows_of(table_schema(table), 1), "The pictures.", "[[stages]]", stand_in=[])


@frozen(kw_only=True)
class KnotTable(FileTable):
    """The file of a knot that is drawn"""

    kind: Kind = key(choice("knot", "procedure"), "What it is.", 'kind = "knot"', usual="knot")
    fillers_vary: bool = key(
        yes_or_no(), "Round 1 to 4 fillers.", "fillers_vary = true", usual=False
    )
    sides: list[str] | None = optional(
        some(line(40), 2, least=2), "Words for the mirror.", 'sides = ["left", "right"]'
    )
    strands: dict[str, StrandTable] = key(
        by_name(any_name(), table_schema(StrandTable)), "The cords.", "[strands.W]", stand_in={}
    )
    stages: list[StageTable] = _stages(StageTable)


@frozen(kw_only=True)
class OwnKnotTable(KnotTable, WordsTable):
    """The file of a writer's own knot"""

    titles: list[str] = key(
        rows_of(line(200)), "Its names.", 'titles = ["river hitch"]', stand_in=[]
    )
    intro: str = key(
        _PARAGRAPH, "What it is.", 'intro = "One turn of *W* round the cord."', stand_in=""
    )
    stages: list[OwnStageTable] = _stages(OwnStageTable)  # type: ignore[assignment]


@frozen(kw_only=True)
class TurnedTable(FileTable):
    """The file of a knot that is another one turned"""

    of: str = key(any_name(), "Which.", 'of = "river-hitch"', stand_in="")
    turn: Literal["over", "mirror"] | None = optional(
        choice("over", "mirror"), "How it is turned.", 'turn = "over"'
    )
    slant: float = key(
        number(-10, 10), "So much down for every 1 to the right.", "slant = 0.5", usual=0.0
    )


@frozen(kw_only=True)
class OwnTurnedTable(TurnedTable, WordsTable):
    """The file of a writer's own knot that is another one turned"""

    words: list[str] | None = _list(
        "What stands under each stage.", 'words = ["…", "…"]', _PARAGRAPH
    )
