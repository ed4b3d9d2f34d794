"""Draw the tree of one page as a PDF's content; what that can't say is drawn by CairoSVG."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from publisher.press.pdf.content import FRESH, ContentStream, FormXObject, Resources, name_of
from publisher.press.pdf.images import draw_image
from publisher.press.pdf.painting import fill_and_stroke
from publisher.press.pdf.tags import Tagger
from publisher.press.pdf.text import Setter
from publisher.press.svg.clipping import Clips
from publisher.press.svg.dialect import SHAPES
from publisher.press.svg.matrix import Bounds
from publisher.press.svg.paint import attribute, needs_gradient, opacity
from publisher.press.svg.path_pens import Reach
from publisher.press.svg.raster import HOW_TO_INSTALL
from publisher.press.svg.shapes import shape_operators, trace_shape
from publisher.press.svg.transforms import read_transform
from publisher.press.svg.tree import Node, PageError

if TYPE_CHECKING:
    from publisher.press.pdf.gradients import Stock

_ENDLESS = (-100_000.0, -100_000.0, 100_000.0, 100_000.0)
"""A box that holds any drawing, in its own units."""


Forms = dict[str, tuple[FormXObject, Bounds]]
"""Groups that a book has many times, by their `data-form`: drawn once, with the box of each."""


class PageCanvas:
    """A page that is being drawn. `setter` has what no face can write; `lay_body` is called where
    the page's body is to stand; `forms` has those of the book's pages before, and gets new ones."""

    def __init__(
        self,
        content: ContentStream,
        tagger: Tagger,
        root: Node,
        forms: Forms,
        lay_body: Callable[[PageCanvas, Node], None] | None = None,
    ) -> None:
        self.content, self.tagger = content, tagger
        self._forms = forms
        self._lay_body = lay_body
        self.setter = Setter(content, tagger)
        self._root = root
        self._clips: Clips | None = None
        self._stock: Stock | None = None

    def draw_page(self) -> None:
        for child in self._root.children:
            self.draw(child)

    def draw(self, node: Node) -> None:
        """Draw an element and all in it. PageError, with the line, if it can't be drawn."""
        name, own = node.name, node.own
        lane = _LANES.get(name)
        if lane is None or own.get("display") == "none":
            return
        try:
            if name == "text" and "clip-path" not in own:
                self.setter.draw(node)
                return
            tagged = ("data-tag" in own or "data-dest" in own) and self.tagger.begin(node)
            clip = own.get("clip-path", "none")
            if "transform" in own or clip != "none":
                self.tagger.unwrap()
                self.content.push()
                if "transform" in own:
                    self.content.transform(read_transform(own["transform"]))
                if clip != "none":
                    self._clip(node, clip)
                lane(self, node)
                self.tagger.unwrap()
                self.content.pop()
            else:
                lane(self, node)
            if tagged:
                self.tagger.end()
        except PageError as error:
            error.line = error.line or node.line
            raise

    def group(self, node: Node) -> None:
        share = opacity(node)
        if "data-body" in node.own and self._lay_body is not None:
            self._lay_body(self, node)
        elif "data-form" in node.own and share == 1.0 and _only_shapes(node):
            self._form(node)
        elif share == 1.0:
            for child in node.children:
                self.draw(child)
        else:
            self._laid_on(node, share)

    def image(self, node: Node) -> None:
        if node.style.get("visibility", "visible") != "visible":
            return
        self.tagger.paint(words=False)
        draw_image(self.content, node)
        x, y = attribute(node, "x"), attribute(node, "y")
        across, down = attribute(node, "width"), attribute(node, "height")
        self._watch((x, y, x + across, y + down))

    def shape(self, node: Node) -> None:
        if node.style.get("visibility", "visible") != "visible":
            return
        self.tagger.paint(words=False)
        path = shape_operators(node)
        if self.content.watched:
            reach = Reach()
            trace_shape(reach, node)
            self._watch(reach.box())
        if needs_gradient(node.style):
            self._by_stock(node)
        elif path:
            fill_and_stroke(self.content, node, path)

    def _clip(self, node: Node, clip: str) -> None:
        if node.name in ("text", "image"):
            what = f"a clip-path stands on a <{node.name}>"
            raise PageError(what, "put it on a <g> around that", node.line)
        if self._clips is None:
            self._clips = Clips(self._root)
        self.content.clip(*self._clips.path(clip, node.line))

    def _form(self, node: Node) -> None:
        """Lay on a group of shapes that other figures have too; the book's file has it once."""
        name = name_of("R", repr((node.own["data-form"], sorted(node.style.items()))).encode())
        if name not in self._forms:
            outer, box = self.content, Bounds()
            inner = self.content = ContentStream(Resources(), start=FRESH)
            inner.watched = [box]
            for child in node.children:
                self.draw(child)
            self.content = outer
            self._forms[name] = FormXObject(inner.text(), _ENDLESS, inner.needs), box
        form, box = self._forms[name]
        self.tagger.paint(words=False)
        self.content.opaque()
        self.content.form(name, form)
        self._watch(box.box)

    def _laid_on(self, node: Node, share: float) -> None:
        """Draw a group by itself, then lay it on as one, `share` of it to be seen."""
        outer = self.content
        self.tagger.begin_group()
        inner = ContentStream(Resources(), outer.matrix, FRESH)
        inner.watched = outer.watched
        self.content = self.setter.content = inner
        for child in node.children:
            self.draw(child)
        self.content = self.setter.content = outer
        form = FormXObject(inner.text(), _ENDLESS, inner.needs)
        outer.push()
        outer.group_opacity(share)
        outer.form(name_of("R", form.operators.encode()), form)
        outer.pop()
        self.tagger.end_group()

    def _by_stock(self, node: Node) -> None:
        """Let CairoSVG draw a shape with a gradient."""
        if self._stock is None:
            try:
                from publisher.press.pdf.gradients import Stock
            except OSError:
                what = "a gradient can't be drawn: the cairo library is not installed"
                hint = f"{HOW_TO_INSTALL}, or draw with plain colours"
                raise PageError(what, hint, node.line) from None
            self._stock = Stock(self._root)
        self._stock.draw(self.content, node)

    def _watch(self, box: tuple[float, float, float, float] | None) -> None:
        if box is not None:
            for bounds in self.content.watched:
                bounds.add(self.content.matrix, *box)


def _only_shapes(node: Node) -> bool:
    """Return whether a group holds no words, no tags and no pictures."""
    return all(
        (child.name in SHAPES or (child.name == "g" and _only_shapes(child)))
        and _TAGGING.isdisjoint(child.own)
        for child in node.children
    )


_TAGGING = frozenset({"data-tag", "data-dest", "data-body"})

_LANES: dict[str, Callable[[PageCanvas, Node], None]] = {
    "g": PageCanvas.group,
    "image": PageCanvas.image,
    "text": PageCanvas.group,
    **dict.fromkeys(SHAPES, PageCanvas.shape),
}
