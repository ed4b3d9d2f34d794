"""Turn a line of words with light marks into spans: *strong* and [words](#target)."""

from __future__ import annotations

import re

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
    done = 0
    for mark in _MARK.finditer(words):
        spans += _filled(words[done : mark.start()], values)
        if mark["strong"]:
            spans += _filled(mark["strong"], values, strong=True)
        else:
            target = mark["to"].removeprefix("#").format(**values)
            spans += _filled(mark["link"], values, target=target)
        done = mark.end()
    return tuple(spans + _filled(words[done:], values))


def _filled(
    words: str, values: dict[str, object], *, strong: bool = False, target: str | None = None
) -> list[Span]:
    spans = []
    for index, part in enumerate(_PAGE.split(words.format(**values))):
        if index % 2:
            spans.append(Span("", strong, part, page_of=part))
        elif part:
            spans.append(Span(part, strong, target))
    return spans


def plain(text: Text) -> str:
    """The words alone."""
    return "".join(span.text for span in text)
