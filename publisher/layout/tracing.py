"""Lay a book out once more so that each part of a page knows which line of a template wrote it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import partial
from typing import Any
from xml.parsers import expat

from markupsafe import Markup

from publisher.errors import Place, Problem, TemplateError
from publisher.layout.macros import place_of_macro
from publisher.layout.marking import Marking, read_marks
from publisher.layout.pages import lay_out_pages
from publisher.layout.templating import Blocks, Compiled
from publisher.manuscript.blocks import Manuscript
from publisher.model.book import Book, Page, origin_of
from publisher.templates import Templates


def trace(manuscript: Manuscript, templates: Templates) -> Book:
    """Lay the pages out with their origins. TemplateError where what a
    template wrote is not whole in itself, or lacks a place that links lead to."""
    marked = Compiled(templates, (Marking,))
    problems: list[Problem] = []
    book = lay_out_pages(manuscript, templates, partial(_Traced, marked, problems))
    if problems:
        raise TemplateError(*dict.fromkeys(problems))
    lines = _lines(marked)
    return replace(book, pages=tuple(_traced(page, lines) for page in book.pages))


def _traced(page: Page, lines: Sequence[tuple[Place | None, str]]) -> Page:
    svg, origins = read_marks(page.svg, lines)
    return replace(page, frame=svg, body="", origins=origins)


def _lines(marked: Compiled) -> list[tuple[Place | None, str]]:
    """The line of each mark; None in templates that came with the package, which are not wrong."""
    texts = {name: file.text.split("\n") for name, file in marked.files.items()}
    return [
        (
            None if marked.files[name].as_installed else Place(marked.files[name].path, line),
            texts[name][line - 1] if line <= len(texts[name]) else "",
        )
        for name, line in marked.extension(Marking).lines
    ]


class _Traced(Blocks):
    """The macros and frames, each looked at by itself: in a whole page, an element that is not
    closed would show somewhere else."""

    def __init__(
        self, marked: Compiled, problems: list[Problem], _: Templates, context: Mapping[str, Any]
    ) -> None:
        super().__init__(marked, context)
        self._marked, self._problems = marked, problems
        self._known: list[tuple[Place | None, str]] = []

    def draw(self, macro: str, x: float, y: float, args: Mapping[str, Any]) -> Markup:
        drawn = super().draw(macro, x, y, args)
        name, _, part = macro.partition(".")
        place = place_of_macro(self._marked.files[f"blocks/{name}.svg"], part)
        text = self._look_at(f"<svg>{drawn}</svg>", place)
        target = args.get("target")
        if target and f'"{target}"' not in text and f'"#{target}"' not in text:
            self._lacks_place(place)
        return drawn

    def page(self, name: str, **values: Any) -> str:
        frame = super().page(name, **values)
        place = Place(self._marked.files[f"pages/{name}.svg"].path, 1)
        text = self._look_at(frame, place)
        if values["title"] and values["target"] and f'"{values["target"]}"' not in text:
            self._lacks_place(place)
        return frame

    def _look_at(self, marked: str, place: Place) -> str:
        text, origins = read_marks(marked, self._lines())
        found = _broken(text)
        if found:
            at, message, hint = found
            self._problems.append(Problem(origin_of(origins, at) or place, message, hint))
        return text

    def _lines(self) -> list[tuple[Place | None, str]]:
        """The lines of all marks so far: more come with each template that is read."""
        if len(self._known) < len(self._marked.extension(Marking).lines):
            self._known = _lines(self._marked)
        return self._known

    def _lacks_place(self, place: Place) -> None:
        hint = 'write data-dest="{{ target }}" on the element of the title'
        self._problems.append(Problem(place, "no element has the place that links lead to", hint))


def _broken(svg: str) -> tuple[int, str, str] | None:
    """The byte at which a text is no XML, what is wrong there, and what to do; None if it is."""
    if "<!DOCTYPE" in svg:  # which the press refuses: entities declared there may blow up
        return None
    opened: list[tuple[str, int]] = []
    parser = expat.ParserCreate()

    def open_(name: str, _: object) -> None:
        opened.append((name, parser.CurrentByteIndex))

    parser.StartElementHandler = open_
    parser.EndElementHandler = lambda _: opened.pop()
    try:
        parser.Parse(svg.encode("utf-8", "surrogatepass"), True)
    except expat.ExpatError as error:
        message = expat.ErrorString(error.code)
        at = parser.ErrorByteIndex
        if message != expat.errors.XML_ERROR_TAG_MISMATCH:
            return at, f"this is not well-formed XML: {message}", "mend the line"
        name, start = opened[-1]
        if len(opened) == 1:
            return at, "there is an end tag too many", "take it out, or write its start tag"
        return start, f"<{name}> is not closed", f"write </{name}> where it ends"
    return None
