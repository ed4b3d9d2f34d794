"""Say a yarn note in words."""

from __future__ import annotations

from publisher.manuscript.blocks import Text
from publisher.manuscript.words import Words
from publisher.plan.values import Note


def is_told(note: Note) -> bool:
    """A yarn that hangs at the very place where it is wanted needs no note."""
    return note.kind != "pick-up" or note.behind is not None


def note_words(note: Note, words: Words, tail: str, *, brief: bool = False) -> Text:
    """What to do at the note's cord; `tail` is the length that is left at the back.

    `brief`: in as few words as can be, as the rows' introduction explains them.
    """
    table = "rows.brief" if brief else "rows"
    if note.kind == "pick-up":
        first, last = note.behind or (note.cord, note.cord)
        key = f"{table}.pick_up_behind_one" if first == last else f"{table}.pick_up_behind"
        return words.say(key, yarn=note.yarn, first=first, last=last)
    return words.say(f"{table}.{note.kind}", yarn=note.yarn, tail=tail)
