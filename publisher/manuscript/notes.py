"""Say what happens to the yarns of a row in words."""

from __future__ import annotations

from publisher.frozen import frozen
from publisher.manuscript.blocks import Text, YarnNote
from publisher.manuscript.measures import Measures
from publisher.manuscript.words import Words
from publisher.model.plan import ChartPlan, Note, Row


@frozen
class NoteWords:
    """The words for a chart's yarn notes.

    `context`: in as few words as can be, as the rows' introduction explains them.
    """

    words: Words
    measures: Measures
    chart: ChartPlan
    context: bool = False

    @property
    def tail(self) -> str:
        """The tail that is left at the back wherever a yarn starts or is left, in words."""
        return _glued(self.measures.metric_or_inch(self.chart.piece.tail_mm))

    @property
    def full(self) -> str:
        """The length that a yarn is cut to whose note does not say it, in words."""
        return _glued(self.measures.metric_or_inch(self.chart.full_length_mm, "up"))

    @property
    def any_full(self) -> bool:
        """Is there a yarn that is cut to the full length?"""
        full_mm = self.chart.full_length_mm
        return any(full_mm in yarn.cut_lengths_mm for yarn in self.chart.yarns)

    @property
    def all_full(self) -> bool:
        """Is there no other?"""
        full_mm = self.chart.full_length_mm
        return all({*yarn.cut_lengths_mm} == {full_mm} for yarn in self.chart.yarns)

    @property
    def named_row(self) -> int | None:
        """A row that some note names to say where a yarn hangs; None if none does."""
        rows = self.chart.row_list
        named = (row.row - n.rows_down for row in rows for n in row.notes if n.needs_row)
        return next(named, None)

    def from_row(self, row: int) -> str:
        """Return where a yarn hangs that is not the one in sight."""
        return self.words("rows.from_row", row=row)

    def length(self, note: Note) -> str:
        """Return how long the yarn is cut that starts or joins."""
        cut_mm = self.chart.full_length_mm if note.cut_mm is None else note.cut_mm
        return _glued(self.measures.metric_or_inch(cut_mm, "up"))

    def say(self, row: Row) -> tuple[YarnNote, ...]:
        """Return what to do with the yarns of a row, and at which cords."""
        return tuple(YarnNote(note.cord, self._note(row, note)) for note in row.told_notes)

    def _note(self, row: Row, note: Note) -> Text:
        """Return what to do; and the length of a yarn that is not cut to the full."""
        say, table = self.words.say, "rows.brief" if self.context else "rows"
        if note.kind == "pick-up":
            above = row.row - note.rows_down
            values = {"yarn": note.yarn, "from_row": self.from_row(above) if note.needs_row else ""}
            if note.behind is None:
                return say(f"{table}.pick_up", **values)
            first, last = note.behind
            key = f"{table}.pick_up_behind_one" if first == last else f"{table}.pick_up_behind"
            return say(key, **values, first=first, last=last)
        if note.cut_mm is None or note.cut_mm == self.chart.full_length_mm:
            return say(f"{table}.{note.kind}", yarn=note.yarn, tail=self.tail)
        values = {"yarn": note.yarn, "length": self.length(note), "tail": self.tail}
        return say(f"{table}.{note.kind}_cut", **values)


def _glued(length: str) -> str:
    """A number and its unit must not be parted at a line's end."""
    return length.replace(" ", "\u00a0")
