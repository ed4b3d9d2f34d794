"""Turn a line of words with light marks into spans: *strong* and [words](#target)."""

from __future__ import annotations

import re
from functools import lru_cache

from publisher.manuscript.blocks import Span, Text

_MARK = re.compile(r"\*(?P<strong>[^*]+)\*|\[(?P<link>[^\]]+)\]\((?P<to>[^)]+)\)")
# Control characters never come in a pattern's own words, so they can stand round a target's name.
_PAGE = re.compile("\x02([^\x03]+)\x03")


def page_of(target: str) -> str:
    """The value that prints the page on which `target` stands, once pages are known."""
    return f"\x02{target}\x03"


def read_marks(words: str, **values: object) -> Text:
    """Split words at their marks, then fill in the values, which are taken as they are."""
    spans: list[Span] = []
    for part, strong, to in _marked(words):
        target = to.format(**values) if to else None
        spans += _filled(part.format(**values), strong, target)
    return tuple(spans)


@lru_cache(maxsize=1024)
def _marked(words: str) -> tuple[tuple[str, bool, str | None], ...]:
    """Words parted at their marks: (words, strong?, where a link leads to)."""
    parts: list[tuple[str, bool, str | None]] = []
    done = 0
    for mark in _MARK.finditer(words):
        parts.append((words[done : mark.start()], False, None))
        if mark["strong"]:
            parts.append((mark["strong"], True, None))
        else:
            parts.append((mark["link"], False, mark["to"].removeprefix("#")))
        done = mark.end()
    parts.append((words[done:], False, None))
    return tuple(parts)


def _filled(words: str, strong: bool, target: str | None) -> list[Span]:
    if "\x02" not in words:
        return [Span(words, strong, target)] if words else []
    spans = []
    for index, part in enumerate(_PAGE.split(words)):
        if index % 2:
            spans.append(Span("", strong, part, page_of=part))
        elif part:
            spans.append(Span(part, strong, target))
    return spans


def plain(text: Text) -> str:
    """The words alone."""
    return "".join(span.text for span in text)
