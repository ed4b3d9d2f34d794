"""Set a manuscript as plain text, 72 characters wide, for any reader and any screen."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from itertools import groupby

from publisher.layout.reading import ReadingItem, read_aloud
from publisher.manuscript.blocks import Manuscript
from publisher.manuscript.markup import plain

_WIDTH = 72
_RULES = {1: "=", 2: "=", 3: "-"}


def lay_out_text(manuscript: Manuscript) -> str:
    """The whole book as lines; ends with a line break."""
    lines: list[str] = []
    for said in read_aloud(manuscript):
        lines += [*_lines(said), ""]
    return "\n".join(lines).replace("\u00a0", " ").rstrip() + "\n"


def _lines(said: ReadingItem) -> Iterator[str]:
    if said.kind == "title":
        title = plain(said.text)
        if said.level < 3:
            yield ""
        yield title
        yield _RULES[said.level] * min(len(title), _WIDTH)
    elif said.kind == "words":
        yield from _wrapped(plain(said.text))
    elif said.kind in ("list", "steps"):
        for number, item in enumerate(said.items, 1):
            mark = f"{number:>2}. " if said.kind == "steps" else "  - "
            yield from _wrapped(plain(item), mark)
    elif said.kind == "facts":
        for term, values in said.items:
            yield from _wrapped(f"{term}: {'; '.join(values)}")
    elif said.kind == "table":
        yield from _table(said)
    elif said.kind == "row":
        yield from _wrapped(f"{said.target}: {plain(said.text)}")
        for note in said.items:
            yield from _wrapped(plain(note), "    ")


def _table(said: ReadingItem) -> Iterator[str]:
    """A row's first cell, then each of its others with the head it stands under; a measure in two
    units is told once: `Length: 100.0 cm (39½ in)`."""
    head, *rows = said.items
    for first, *cells in rows:
        told: list[str] = []
        for title, pairs in groupby(
            ((*name.partition(", "), cell) for name, cell in zip(head[1:], cells, strict=True)),
            key=lambda pair: pair[0],
        ):
            values = [f"{cell} {unit}".strip() for _, _, unit, cell in pairs if cell]
            if values:
                others = "".join(f" ({value})" for value in values[1:])
                told.append(f"{title}: {values[0]}{others}")
        yield from _wrapped(f"{first}. {'; '.join(told)}", "  ")


def _wrapped(words: str, mark: str = "") -> list[str]:
    return textwrap.wrap(
        words,
        _WIDTH,
        initial_indent=mark,
        subsequent_indent=" " * len(mark),
        break_on_hyphens=False,
    )
