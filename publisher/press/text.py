"""Set a <text>: its runs in shaped words, where each stands, and its glyphs on a cairo context."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

from publisher.fonts import Shaper, Word, face_named, shaper
from publisher.press.cairo_faces import cairo_face
from publisher.press.paint import attribute, length, paint_of
from publisher.press.pen import Pen
from publisher.press.tags import Tagger
from publisher.press.transforms import apply_transform
from publisher.press.tree import Node, PageError

_BLANKS = re.compile(r"[ \t\r\n]+")
_PRESERVE = "http://www.w3.org/XML/1998/namespace space"
_ANCHORS = {"start": 0.0, "middle": 0.5, "end": 1.0}


@dataclass(slots=True)
class Run:
    """A stretch of text in one style. `size` and `width` are in user units; `advance`, if not
    None, is the same step for every character. `words` are its words, or then its letters."""

    node: Node
    text: str
    face: str
    shaper: Shaper
    size: float
    advance: float | None
    words: list[Word]

    @property
    def width(self) -> float:
        if self.advance is not None:
            return self.advance * len(self.text)
        return self.shaper.width_em(self.text) * self.size

    @property
    def missing(self) -> str:
        """The characters that the face has no glyph for."""
        return "".join(word.missing for word in self.words)


def set_runs(text: Node) -> list[Run]:
    """The runs of a <text> and the tspans in it, in order, one for each node, blanks collapsed."""
    runs = list(_runs(text, _advance(text, None)))
    if (len(runs) > 1 or _BLANKS.search(runs[0].text)) and not _keeps_blanks(text, runs[0]):
        _collapse(runs)
    for run in runs:
        run.words = run.shaper.words(run.text if run.advance is None else list(run.text))
    return runs


def draw_text(pen: Pen, tagger: Tagger, text: Node, runs: list[Run]) -> None:
    """Draw a <text> from its runs."""
    transform = text.own.get("transform")
    if transform:
        pen.push()
        apply_transform(pen.context, transform)
    _Setter(pen, tagger, runs).node(text)
    if transform:
        pen.pop()


def _runs(node: Node, advance: float | None) -> Iterator[Run]:
    yield _run(node, advance)
    for child in node.children:
        yield from _runs(child, _advance(child, advance))


def _run(node: Node, advance: float | None) -> Run:
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
    return Run(node, node.text, face, shaper(face), size, advance, [])


@lru_cache(maxsize=512)
def _font(family: str, weight: str, slant: str, size: str) -> tuple[str, float]:
    face = face_named(family, weight, slant)
    if face is None:
        what = f"there is no font “{family}”, weight {weight}, style {slant}"
        raise PageError(what, "use one of the house's faces")
    size_mm = length(size, "font-size")
    if size_mm <= 0:
        raise PageError("a text has no font-size", "write it, in mm")
    return face, size_mm


def _keeps_blanks(text: Node, run: Run) -> bool:
    return run.advance is not None or text.own.get(_PRESERVE) == "preserve"


def _advance(node: Node, around: float | None) -> float | None:
    return attribute(node, "data-advance") if "data-advance" in node.own else around


def _collapse(runs: list[Run]) -> None:
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


class _Setter:
    """Draws runs one after the other, the pen moving on with each."""

    def __init__(self, pen: Pen, tagger: Tagger, runs: list[Run]) -> None:
        self.pen, self.tagger, self.runs = pen, tagger, runs
        self.at = 0
        self.x = self.y = 0.0

    def node(self, node: Node) -> None:
        tagged = self.tagger.begin(node)
        if node.own:
            self.move(node)
        run = self.runs[self.at]
        self.at += 1
        if run.text:
            self.draw(run)
        for child in node.children:
            self.node(child)
        if tagged:
            self.tagger.end()

    def move(self, node: Node) -> None:
        own = node.own
        if "x" in own:
            self.x = attribute(node, "x")
            anchor = node.style.get("text-anchor", "start")
            if anchor != "start":
                self.x -= self.width_to_next_x() * _share(anchor)
        if "y" in own:
            self.y = attribute(node, "y")
        if "dx" in own:
            self.x += attribute(node, "dx")
        if "dy" in own:
            self.y += attribute(node, "dy")

    def width_to_next_x(self) -> float:
        width = self.runs[self.at].width
        for run in self.runs[self.at + 1 :]:
            if "x" in run.node.own:
                break
            width += run.width
        return width

    def draw(self, run: Run) -> None:
        style = run.node.style
        fill = paint_of(style, "fill", "black")
        if fill is None or style.get("visibility", "visible") != "visible":
            self.x += run.width
            return
        opacity = run.node.own.get("opacity")
        share = 1.0 if opacity is None else length(opacity, "opacity")
        self.tagger.paint(words=True)
        self.pen.ink(fill, share)
        self.pen.font(cairo_face(run.face), run.size)
        if run.advance is None:
            self.words(run)
        else:
            self.evenly(run, run.advance)

    def words(self, run: Run) -> None:
        """Draw a run kerned, word after word; the pen stands at its end."""
        x, y, size, space = self.x, self.y, run.size, run.shaper.space
        blank, step = space.glyphs[0][0], space.advance_em * size
        glyphs: list[float] = []
        for index, word in enumerate(run.words):
            if index:
                glyphs += (blank, x, y)
                x += step
            for glyph, dx, dy in word.glyphs:
                glyphs += (glyph, x + dx * size, y + dy * size)
            x += word.advance_em * size
        self.x = x
        self.pen.show_glyphs(run.text, glyphs, _clusters(run.words, space.clusters))

    def evenly(self, run: Run, advance: float) -> None:
        """Draw a run with each character one step after the last."""
        x, y, size = self.x, self.y, run.size
        glyphs: list[float] = []
        for letter in run.words:
            for glyph, dx, dy in letter.glyphs:
                glyphs += (glyph, x + dx * size, y + dy * size)
            x += advance
        self.x = x
        self.pen.show_glyphs(run.text, glyphs, _clusters(run.words, ()))


def _share(anchor: str) -> float:
    """How much of a line's width stands before its x."""
    if anchor not in _ANCHORS:
        what = f"text-anchor=“{anchor}” is not known"
        raise PageError(what, f"use one of {', '.join(_ANCHORS)}")
    return _ANCHORS[anchor]


def _clusters(
    words: list[Word], between: tuple[tuple[int, int], ...]
) -> list[tuple[int, int]] | None:
    """Which bytes are which glyphs in words with blanks `between` them; None: each is one."""
    if all(word.plain for word in words):
        return None
    clusters: list[tuple[int, int]] = []
    for index, word in enumerate(words):
        clusters += between if index else ()
        clusters += word.clusters
    return clusters
