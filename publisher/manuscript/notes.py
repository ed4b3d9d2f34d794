"""Say a yarn note in words."""

from __future__ import annotations

from publisher.frozen import frozen
from publisher.manuscript.blocks import Text
from publisher.manuscript.measures import Measures
from publisher.manuscript.words import Words
from publisher.plan.values import ChartPlan, Note


def is_told(note: Note) -> bool:
    """A yarn that hangs at the very place where it is wanted needs no note."""
    return note.kind != "pick-up" or note.behind is not None


@frozen
class NoteWords:
    """How a chart's yarn notes are said.

    `brief`: in as few words as can be, as the rows' introduction explains them.
    """

    words: Words
    measures: Measures
    chart: ChartPlan
    brief: bool = False

    @property
    def tail(self) -> str:
        """What is left at the back wherever a yarn starts or is left."""
        return _glued(self.measures.metric_or_inch(self.chart.tail_mm))

    @property
    def full(self) -> str:
        """How long a yarn is cut whose note does not say it."""
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

    def length(self, note: Note) -> str:
        """How long the yarn is cut that starts or joins."""
        cut_mm = self.chart.full_length_mm if note.cut_mm is None else note.cut_mm
        return _glued(self.measures.metric_or_inch(cut_mm, "up"))

    def say(self, note: Note) -> Text:
        """What to do at the note's cord; and the length of a yarn that is not cut to the full."""
        say, table = self.words.say, "rows.brief" if self.brief else "rows"
        if note.kind == "pick-up":
            first, last = note.behind or (note.cord, note.cord)
            key = f"{table}.pick_up_behind_one" if first == last else f"{table}.pick_up_behind"
            return say(key, yarn=note.yarn, first=first, last=last)
        if note.cut_mm is None or note.cut_mm == self.chart.full_length_mm:
            return say(f"{table}.{note.kind}", yarn=note.yarn, tail=self.tail)
        values = {"yarn": note.yarn, "length": self.length(note), "tail": self.tail}
        return say(f"{table}.{note.kind}_cut", **values)


def _glued(length: str) -> str:
    """A number and its unit must not be parted at a line's end."""
    return length.replace(" ", "\u00a0")
