"""Set a <text>: its runs in shaped words, where each stands, and the operators that show them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

from publisher.fonts import face_named
from publisher.press.pdf.content import ContentStream
from publisher.press.pdf.file import text_string
from publisher.press.pdf.tags import Tagger
from publisher.press.pdf.typefaces import ShownText, Typeface, typeface
from publisher.press.svg.paint import attribute, length, opacity, paint_of
from publisher.press.svg.transforms import read_transform
from publisher.press.svg.tree import Node, PageError

_BLANKS = re.compile(r"[ \t\r\n]+")
_TO_BLANKS = str.maketrans("\t\r\n", "   ")
_PRESERVE = "http://www.w3.org/XML/1998/namespace space"
_ANCHORS = {"start": 0.0, "middle": 0.5, "end": 1.0}


@dataclass(slots=True)
class StyledText:
    """A stretch of text in one style. `size` is in user units; `step`, if not None, is how far
    every character is from the next. `blank_after`: it is written with a blank at its end, which
    shows nothing and has no part in its width."""

    node: Node
    text: str
    face: Typeface
    size: float
    step: float | None
    blank_after: bool = False

    @property
    def line(self) -> ShownText:
        return self.shaped(self.text)

    def shaped(self, text: str) -> ShownText:
        """A text in this run's style."""
        return self.face.line(text, None if self.step is None else self.step / self.size)

    @property
    def width(self) -> float:
        """In user units."""
        return self.line.width_em * self.size


class Setter:
    """Sets the texts of a page. `missing` gathers (face, character, text) for what has no glyph."""

    def __init__(self, content: ContentStream, tagger: Tagger) -> None:
        self.content, self.tagger = content, tagger
        self.missing: list[tuple[str, str, str]] = []
        self._x = self._y = 0.0
        self._runs: list[StyledText] = []
        self._at = 0

    def draw(self, text: Node) -> None:
        """Write a <text>. PageError if it can't be set."""
        transform = text.own.get("transform")
        if transform is not None:
            self.tagger.unwrap()
            self.content.push()
            self.content.transform(read_transform(transform))
        self._runs, self._at = set_runs(text), 0
        self._x = self._y = 0.0
        self._node(text, 1.0)
        if transform is not None:
            self.tagger.unwrap()
            self.content.pop()

    def _node(self, node: Node, around: float) -> None:
        tagged = self.tagger.begin(node)
        if node.own:
            self._move(node)
        run, share = self._runs[self._at], opacity(node, around)
        self._at += 1
        if run.text:
            self._write(run, share)
        for child in node.children:
            self._node(child, share)
        if tagged:
            self.tagger.end()

    def _move(self, node: Node) -> None:
        own = node.own
        if "x" in own:
            self._x = attribute(node, "x")
            anchor = node.style.get("text-anchor", "start")
            if anchor != "start":
                self._x -= self._width_to_next_x() * _share(anchor)
        if "y" in own:
            self._y = attribute(node, "y")
        if "dx" in own:
            self._x += attribute(node, "dx")
        if "dy" in own:
            self._y += attribute(node, "dy")

    def _width_to_next_x(self) -> float:
        width = self._runs[self._at].width
        for run in self._runs[self._at + 1 :]:
            if "x" in run.node.own:
                break
            width += run.width
        return width

    def _write(self, run: StyledText, share: float) -> None:
        size, x, y = run.size, self._x, self._y
        words = f"{run.text} " if run.blank_after else run.text
        line = run.shaped(words)
        style, content, face = run.node.style, self.content, run.face
        if line.missing:
            self.missing += [(face.key, letter, run.text) for letter in line.missing]
        self._x += line.width_em * size
        fill = paint_of(style, "fill", "black")
        if fill is None or style.get("visibility", "visible") != "visible":
            return
        self.tagger.paint(words=True)
        content.fill_colour(fill, share)
        if content.watched:
            self._watch(run, x, y)
        write_line(content, face, words, line, size, (x, y))

    def _watch(self, run: StyledText, x: float, y: float) -> None:
        """Hold a run's words, without blanks around them, in the boxes that are watched."""
        words, size = run.text.strip(" "), run.size
        left = x + self._width(run, run.text[: len(run.text) - len(run.text.lstrip(" "))])
        right = left + self._width(run, words)
        up, down = run.face.proportions[:2]
        for bounds in self.content.watched if words else ():
            bounds.add(self.content.matrix, left, y - up * size, right, y + down * size)

    @staticmethod
    def _width(run: StyledText, text: str) -> float:
        return run.shaped(text).width_em * run.size if text else 0.0


def write_line(
    content: ContentStream,
    face: Typeface,
    text: str,
    line: ShownText,
    size: float,
    at: tuple[float, float],
) -> None:
    """Write a line of a face, its base line beginning `at` a place."""
    x, y = at
    if line.spoken:
        content.write(f"/Span<</ActualText {text_string(text)}>>BDC")
    if line.raised:
        for glyph, right, below in line.raised:
            place = (x + right * size, y + below * size)
            content.words(face.key, size, place, face.show_glyph(glyph), line.glyphs)
    else:
        content.words(face.key, size, at, line.shown, line.glyphs, line.spacing_em * size)
    if line.spoken:
        content.write("EMC")


def set_runs(text: Node) -> list[StyledText]:
    """The runs of a <text> and the tspans in it, in order, one for each node, blanks collapsed."""
    step = _step(text, None)
    runs = list(_runs(text, step)) if text.children else [_run(text, step)]
    if len(runs) > 1 or _BLANKS.search(runs[0].text):
        if _keeps_blanks(text, runs[0]):
            for run in runs:
                run.text = run.text.translate(_TO_BLANKS)
        else:
            _collapse(runs)
    worded = [run for run in runs if run.text]
    for run, after in pairwise(worded):
        run.blank_after = "x" in after.node.own and not run.text.endswith(" ")
    if worded:
        worded[-1].blank_after = text.blank_after
    return runs


def _runs(node: Node, step: float | None) -> Iterator[StyledText]:
    yield _run(node, step)
    for child in node.children:
        yield from _runs(child, _step(child, step))


def _run(node: Node, step: float | None) -> StyledText:
    style = node.style
    face, size = _font(
        style.get("font-family", ""),
        style.get("font-weight", "normal"),
        style.get("font-style", "normal"),
        style.get("font-size", "0"),
    )
    if style.get("stroke", "none") != "none" or style.get("fill", "").startswith("url"):
        what = "a text has a stroke or a gradient"
        raise PageError(what, 'give it stroke="none" and a plain fill', node.line)
    return StyledText(node, node.text, face, size, step)


@lru_cache(maxsize=512)
def _font(family: str, weight: str, slant: str, size: str) -> tuple[Typeface, float]:
    face = face_named(family, weight, slant)
    if face is None:
        what = f"there is no font “{family}”, weight {weight}, style {slant}"
        raise PageError(what, "use one of the house's faces")
    size_mm = length(size, "font-size")
    if size_mm <= 0:
        raise PageError("a text has no font-size", "write it, in mm")
    return typeface(face), size_mm


def _keeps_blanks(text: Node, run: StyledText) -> bool:
    return run.step is not None or text.own.get(_PRESERVE) == "preserve"


def _step(node: Node, around: float | None) -> float | None:
    return attribute(node, "data-advance") if "data-advance" in node.own else around


def _collapse(runs: list[StyledText]) -> None:
    """Every stretch of blanks becomes one, and none is left at the start and the end."""
    after_blank = True
    for run in runs:
        text = _BLANKS.sub(" ", run.text)
        if after_blank:
            text = text.removeprefix(" ")
        if text:
            after_blank = text.endswith(" ")
        run.text = text
    for run in reversed(runs):
        run.text = run.text.rstrip(" ")
        if run.text:
            return


def _share(anchor: str) -> float:
    """Return how much of a line's width stands before its x."""
    if anchor not in _ANCHORS:
        what = f"text-anchor=“{anchor}” is not known"
        raise PageError(what, f"use one of {', '.join(_ANCHORS)}")
    return _ANCHORS[anchor]
