"""The look of a book as values: paper, type, colours, lines, chart."""

from __future__ import annotations

from collections.abc import Mapping

from publisher.frozen import frozen
from publisher.model.colour import Colour


@frozen
class Margins:
    left_mm: float
    right_mm: float
    top_mm: float
    bottom_mm: float


@frozen
class Paper:
    """A sheet and its text area."""

    width_mm: float
    height_mm: float
    margins: Margins

    @property
    def text_width_mm(self) -> float:
        return self.width_mm - self.margins.left_mm - self.margins.right_mm

    @property
    def text_bottom_mm(self) -> float:
        return self.height_mm - self.margins.bottom_mm


@frozen
class TypeStyle:
    """A role of type. `face` and `strong` name faces of `publisher.fonts`."""

    face: str
    size_pt: float
    lead_mm: float
    colour: str = "ink"
    strong: str = "semibold"


@frozen
class FrameLook:
    """The places of a page's furniture, in mm: base lines from the top or from the foot."""

    header_mm: float
    header_rule_mm: float
    title_mm: float
    """The first line of a page's title."""
    title_gap_mm: float
    """From the last line of the title to the top of the text."""
    foot_mm: float
    """From the paper's lower edge."""
    scale_bar_mm: float
    """The scale bar's words, from the paper's lower edge."""
    scale_bar_left_mm: float
    """From the left margin to the bar."""
    imprint_mm: float
    """The most that the imprint may take of the foot."""
    cover_top_mm: float
    cover_facts_mm: float
    """The width of the column of facts on the cover."""
    column_gap_mm: float


@frozen
class ChartLook:
    """Measures of the chart, in mm and pt."""

    cell_max_mm: float
    cell_min_mm: float
    overlap: int
    gutter_mm: float
    arrow: float
    """Size of the row arrow; 1 is 3.5 mm long."""
    arrow_gap_mm: float
    number_gap_mm: float
    tick_mm: float
    tick_gap_mm: float
    grid_line_mm: float
    five_line_mm: float
    ten_line_mm: float
    row_number: str
    """Type role of the row numbers."""
    cord_number: str
    overlap_words: str
    run_length: str
    run_length_from: int
    """Runs of at least this many knots carry their count; 0 turns it off."""
    yarn_marks: bool
    """Do marks between cells show where yarns start, join, are picked up and are left?"""
    mark_mm: float
    """How high those marks are, and how wide the dots of the ends on the map of the back; less
    where cells are too small for it."""
    map_room_mm2: float
    """The least room on the map of the back for each thing to do there, on average, in type of
    8 pt; in larger type it is larger. A map with less is cut into parts."""
    key_columns: int
    key_counts: bool
    """Does the key say how many knots each colour has?"""
    key_map_mm: float


@frozen
class Look:
    """Everything that a writer can change about how pages look.

    Colours are named: ink, soft, note, accent, tint, figure, band, hair, paper, grid.
    With `mono`, cells have no fill and yarn colours are never used.
    """

    mono: bool
    colours: Mapping[str, Colour]
    lines: Mapping[str, float]
    type: Mapping[str, TypeStyle]
    paper: Paper
    frame: FrameLook
    chart: ChartLook
    key: str = ""
    """The same for looks that are the same, to keep drawings by."""

    @property
    def accent(self) -> Colour:
        """The colour of what stands out: ink, where there is no other."""
        return self.colours["ink" if self.mono else "accent"]

    @property
    def of_figures(self) -> tuple[object, ...]:
        """The values that drawings of knots and parts take from it."""
        return self.mono, sorted(self.colours.items()), self.type["figure-label"]
