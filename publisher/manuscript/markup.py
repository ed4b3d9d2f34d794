"""Turn a line of words with light marks into spans: *strong* and [words](#target)."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from functools import lru_cache
from string import Formatter

from publisher.manuscript.blocks import Span, Text

_MARK = re.compile(r"\*(?P<strong>[^*]+)\*|\[(?P<link>[^\[\]]+)\]\((?P<to>[^()\[\]]+)\)")
# Control characters never come in a pattern's own words, so they can stand round a target's name.
_PAGE = re.compile("\x02([^\x03]+)\x03")
_PAGE_MARK = "\x02"
_PAGE_WORDS = re.compile(r"\s*\([^()]*\x02[^()]*\)")


def page_of(target: str) -> str:
    """The value that prints the page on which `target` stands, once pages are known."""
    return f"\x02{target}\x03"


def fill(words: str, /, **values: object) -> str:
    """Words with a value for each `{name}`. KeyError or ValueError for any other braces: a word
    list may come from a stranger, and Python's formats reach behind the values, or write a million
    blanks."""
    return "".join(text + (str(values[name]) if name else "") for text, name in _names(words))


@lru_cache(maxsize=1024)
def _names(words: str) -> tuple[tuple[str, str | None], ...]:
    """Words parted at the names in them: the text before each, and the name."""
    parts = []
    for text, name, form, conversion in Formatter().parse(words):
        if name is not None and (form or conversion or not name.isidentifier()):
            raise ValueError(f"{{{name[:30]}}} is more than a name")
        parts.append((text, name))
    return tuple(parts)


def read_marks(words: str, /, **values: object) -> Text:
    """Split words at their marks, then fill in the values, which are taken as they are."""
    spans: list[Span] = []
    for part, strong, to in _marked(words):
        target = fill(to, **values) if to else None
        spans += _filled(fill(part, **values), strong, target)
    return tuple(spans)


def with_pages(words: str) -> Text:
    """Words without marks as spans; what `page_of` gave prints its page."""
    return tuple(_filled(words, False, None))


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
    if _PAGE_MARK not in words:
        return [Span(words, strong, target)] if words else []
    spans = []
    for index, part in enumerate(_PAGE.split(words)):
        if index % 2:
            spans.append(Span("", strong, part, page_of=part))
        elif part:
            spans.append(Span(part, strong, target))
    return spans


def joined(*texts: Text) -> Text:
    """Put texts together; strong words with nothing but a blank between them are one span.

    A blank alone in its style is lost to readers of a PDF, which pass over a text of blanks only.
    """
    spans: list[Span] = []
    for span in (span for text in texts for span in text):
        blank = spans[-1].text if len(spans) > 1 and spans[-1].text.isspace() else None
        if blank and _alike(spans[-2], span):
            spans[-2:] = [replace(span, text=f"{spans[-2].text}{blank}{span.text}")]
        else:
            spans.append(span)
    return tuple(spans)


def _alike(one: Span, other: Span) -> bool:
    return replace(one, text="") == replace(other, text="") and one.page_of is None


def plain(text: Text) -> str:
    """The words alone."""
    return "".join(span.text for span in text)


def without_pages(text: Text, lost: Callable[[str], bool] = lambda target: True) -> Text:
    """Spans without “(page 12)” of what is `lost`: all of it, where there are no pages to turn
    to."""
    marked = [
        replace(span, text=_PAGE_MARK) if span.page_of and lost(span.page_of) else span
        for span in text
    ]
    whole = "".join(span.text for span in marked)
    gone = {at for match in _PAGE_WORDS.finditer(whole) for at in range(*match.span())}
    kept: list[Span] = []
    at = 0
    for span in marked:
        words = "".join(
            letter
            for index, letter in enumerate(span.text, at)
            if index not in gone and letter != _PAGE_MARK
        )
        at += len(span.text)
        if span.page_of and not span.text:
            kept.append(span)
        elif words:
            kept.append(replace(span, text=words, page_of=None))
    return tuple(kept)


def without_page_words(words: str, lost: Callable[[str], bool]) -> str:
    """Plain words without “(page 12)” of what is lost."""
    if _PAGE_MARK not in words or not any(map(lost, _PAGE.findall(words))):
        return words
    return _PAGE.sub("", _PAGE_WORDS.sub("", words))


def is_elsewhere(target: str) -> bool:
    """Return whether a link leads out of the book."""
    return "://" in target or target.startswith("mailto:")
