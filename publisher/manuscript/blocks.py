"""The content of a book in reading order: what is said, not where it stands."""

from __future__ import annotations

import datetime
from collections.abc import Callable, Mapping, Sequence
from typing import Literal

from publisher.drawing.part.picture import PartPicture
from publisher.drawing.piece.placed import PlacedPart
from publisher.frozen import frozen
from publisher.model.figure import Figure
from publisher.model.look import Look
from publisher.model.part_plan import Placement
from publisher.model.pattern import Side, YarnColour
from publisher.model.plan import ChartPlan


@frozen
class Span:
    """A stretch of text in one face. `page_of` prints the page on which a target stands."""

    text: str
    strong: bool = False
    target: str | None = None
    page_of: str | None = None


Text = tuple[Span, ...]


@frozen
class Heading:
    """A heading inside a section, with a quiet lead-in on the same line."""

    text: str
    lead_in: str = ""
    target: str | None = None
    arrow: Side | None = None
    """An arrow after the heading, to the side that the work goes."""


@frozen
class Paragraph:
    """`keep` holds it together with the next block. `whole`: it is never parted."""

    text: Text
    role: str = "body"
    keep: bool = False
    whole: bool = False


@frozen
class Items:
    """A list; `numbered` counts from 1."""

    items: tuple[Text, ...]
    numbered: bool = False
    role: str = "body"


@frozen
class Facts:
    """Terms and what belongs to them, term beside value. `keep` holds them together with the next
    block."""

    facts: tuple[tuple[str, tuple[str, ...]], ...]
    term_mm: float = 32.0
    keep: bool = False


@frozen
class Column:
    """A table column. `share` of the table's width; `unit` stands under the title."""

    title: str
    share: float
    unit: str = ""
    right: bool = False


@frozen
class Cell:
    """The content of a table cell: text, a second quiet line, or a colour before the text."""

    text: str = ""
    second: str = ""
    swatch: str | None = None
    """A colour's letter."""


@frozen
class TableRow:
    """`group` rows name those that follow; `total` rows close the table."""

    cells: tuple[Cell, ...]
    kind: Literal["plain", "group", "total"] = "plain"


@frozen
class Table:
    columns: tuple[Column, ...]
    rows: tuple[TableRow, ...]


@frozen
class YarnNote:
    """A yarn note under a row: the cord's number and what to do there."""

    cord: int
    text: Text


@frozen
class RowEntry:
    """One written row: a box to tick, number, direction, runs and yarn notes."""

    row: int
    start: Side
    runs: Text
    notes: tuple[YarnNote, ...]
    spoken: str
    """The row's head in words, for those who listen."""
    run_in: bool = False
    """Do the notes follow one another in the same lines?"""


@frozen
class Picture:
    """A figure on its own, with words under it: one paragraph, or more."""

    figure: Figure
    words: Text = ()
    more: tuple[Text, ...] = ()


FIGURE_GAP = 0.6
"""Room above figures in a strip, in lines of their words."""


@frozen
class Strip:
    """Figures side by side, each with its words underneath.

    `numbered`: they are the steps 1, 2, 3, …; otherwise their words say what they are.
    `column_mm`: the width of a figure's column, where it is wider than the figure.
    """

    pictures: tuple[Picture, ...]
    numbered: bool = True
    in_line: bool = False
    """Their words stay below them, however narrow: all of them fit in one line."""
    column_mm: float = 0.0
    keep: bool = False
    """They hold together with the next block."""


@frozen
class Beside:
    """Blocks side by side; `shares` of the width."""

    parts: tuple[tuple[Block, ...], ...]
    shares: tuple[float, ...]


@frozen
class Caution:
    """Hazards before the step they belong to: the only tinted text in the book."""

    heading: str
    items: tuple[Text, ...]


@frozen
class Contents:
    """The book's own table of contents: (title, target)."""

    entries: tuple[tuple[str, str], ...]


@frozen
class ColourLine:
    """A line of all colours: swatch, letter, name."""

    letters: tuple[str, ...]


@frozen
class Rule:
    """A hairline across the column."""


@frozen
class NoteLines:
    """Empty lines to write on; 0 fills the page, where they end a section."""

    count: int


@frozen
class Card:
    """One pattern in an index. `picture` and the second of `books` are addresses from the index.

    `lines` stand in the same order in every card, "" where a pattern has nothing to say.
    `colours`: name and `#rrggbb`. `books`: what a file is called, and where it lies.
    """

    title: str
    target: str
    subtitle: str
    figure: Figure | None
    picture: str
    lines: tuple[str, ...]
    colours: tuple[tuple[str, str], ...]
    colours_head: str
    books: tuple[tuple[str, str], ...]


@frozen
class Cards:
    """An index's cards, so many across a page."""

    cards: tuple[Card, ...]
    across: int


@frozen
class Chart:
    """A chart, cut into as many pages as its cells need when the page is known."""

    plan: ChartPlan
    words: Mapping[str, str]
    """What the figures print."""
    titles: Mapping[str, str]
    """Titles of the pages and of the key."""
    key_lead: Text
    places: tuple[Placement, ...] = ()
    """Where parts are fastened."""


@frozen
class BackMap:
    """The back of a piece with its numbered ends, drawn as large as the page allows."""

    plan: ChartPlan
    words: Mapping[str, str]
    counts: Mapping[str, str]
    """How many pairs and single ends there are, in words."""
    beside: tuple[Block, ...]
    """What is read beside the map."""


@frozen
class Cover:
    """The front: the piece as it will hang, and the facts a buyer looks for."""

    title: str
    subtitle: str
    facts: tuple[tuple[str, tuple[str, ...]], ...]
    plan: ChartPlan | None
    alt: str
    house: str
    line: Text
    placed: tuple[PlacedPart, ...] = ()
    """The parts that are fastened to the piece."""
    part: PartPicture | None = None
    """What is shown where there is no chart."""


Block = (
    Heading
    | Paragraph
    | Items
    | Facts
    | Table
    | RowEntry
    | Picture
    | Strip
    | Beside
    | Caution
    | Contents
    | ColourLine
    | Rule
    | NoteLines
    | Chart
    | BackMap
    | Cover
    | Cards
)


@frozen
class Section:
    """A part of the book that starts a page, or goes on below the one before.

    `title` may name `{first}` and `{last}`: the written rows that a page holds. `note` stands
    small beside the title. `lead` goes across the first page above the columns, `foot` across
    the bottom of every page.
    """

    name: str
    page: str
    title: str
    running: str
    body: tuple[Block, ...]
    title_later: str = ""
    """What stands over its second and further pages, where that is not the same."""
    note: str = ""
    lead: tuple[Block, ...] = ()
    foot: tuple[Block, ...] = ()
    columns: int = 1
    continues: bool = False
    """It goes on below the section before it where there is room: whole if it is short. Such a
    section has one column, and nothing across its pages."""
    bookmark: str = ""
    """Its line in the outline, where that is not the title of its first page."""
    bookmarks: tuple[tuple[str, str], ...] = ()
    """Further lines of the outline under this section: (title, target)."""
    also: tuple[str, ...] = ()
    """Other names of its beginning, that links lead to."""
    title_one: str = ""
    """The title of a page with one written row, where it is another; it may name `{first}`."""
    smaller: Callable[[float], tuple[Block, ...]] | None = None
    """Its body with figures that are so much smaller, where a page is saved by that."""

    def title_of(self, page: int = 0, rows: Sequence[int] = ()) -> str:
        """The title of one of its pages, from 0, that holds these written rows."""
        title = self.title_later if page and self.title_later else self.title
        if not rows:
            return title.format(first="", last="") if "{first}" in title else title
        if len(rows) == 1 and self.title_one:
            title = self.title_one
        return title.format(first=rows[0], last=rows[-1])


@frozen
class Manuscript:
    """A whole book, before any page is known."""

    title: str
    author: str
    subject: str
    keywords: tuple[str, ...]
    language: str
    date: datetime.datetime
    version: str
    edition: str
    house: str
    sections: tuple[Section, ...]
    colours: tuple[YarnColour, ...]
    look: Look
    words: Mapping[str, str]
    """The words that page frames and figures print themselves."""
