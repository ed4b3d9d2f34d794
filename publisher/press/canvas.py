"""Draw the tree of one page on a cairo context: the common elements here, the rest by CairoSVG."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

from publisher.press.images import draw_image
from publisher.press.paint import attribute, fill_and_stroke, needs_gradient
from publisher.press.paths import trace_path, trace_points
from publisher.press.pen import Pen
from publisher.press.tags import Tagger
from publisher.press.text import Run, draw_text
from publisher.press.transforms import apply_transform
from publisher.press.tree import Node, PageError

_ROUND = 0.5522847498
"""How far a cubic's handle stands out for a quarter of a circle (common practice)."""


class Canvas:
    """A page under the pen. `runs`: the texts of the page, by node, as they were set."""

    def __init__(
        self, context: Any, tagger: Tagger, root: Node, runs: dict[Node, list[Run]]
    ) -> None:
        self.pen, self.tagger, self.runs = Pen(context), tagger, runs
        self._root = root
        self._stock: Any = None

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
                draw_text(self.pen, self.tagger, node, self.runs[node])
                return
            tagged = ("data-tag" in own or "data-dest" in own) and self.tagger.begin(node)
            if self._is_rare(node):
                self.stock.draw_node(node)
                self.pen.forget()
            elif "transform" in own:
                self.pen.push()
                apply_transform(self.pen.context, own["transform"])
                lane(self, node)
                self.pen.pop()
            else:
                lane(self, node)
            if tagged:
                self.tagger.end()
        except PageError as error:
            error.line = error.line or node.line
            raise

    def _is_rare(self, node: Node) -> bool:
        """Whether CairoSVG is to draw an element itself (not what stands inside it)."""
        own = node.own
        if own.get("clip-path", "none") != "none":
            if node.name in ("text", "image"):
                what = f"a clip-path stands on a <{node.name}>"
                raise PageError(what, "put it on a <g> around that", node.line)
            return True
        if node.name == "g":
            return "opacity" in own
        return node.name != "image" and needs_gradient(node.style)

    @property
    def stock(self) -> Any:
        """CairoSVG's own drawing, brought in by the first element that needs it."""
        if self._stock is None:
            from publisher.press.stock import StockSurface

            self._stock = StockSurface(self.pen.context, self.tagger, self._root, self._inside)
        return self._stock

    def _inside(self, node: Node) -> None:
        """Draw what stands inside an element of CairoSVG's."""
        self.pen.forget()
        self.draw(node)

    def group(self, node: Node) -> None:
        for child in node.children:
            self.draw(child)

    def image(self, node: Node) -> None:
        self.tagger.paint(words=False)
        draw_image(self.pen.context, node)
        self.pen.forget()


def _shape(trace: Callable[[Pen, Node], None]) -> Callable[[Canvas, Node], None]:
    """A lane that traces a path, then fills and strokes it."""

    def lane(canvas: Canvas, node: Node) -> None:
        if node.style.get("visibility", "visible") != "visible":
            return
        canvas.tagger.paint(words=False)
        trace(canvas.pen, node)
        fill_and_stroke(canvas.pen, node)

    return lane


def _path(pen: Pen, node: Node) -> None:
    trace_path(pen, node.own.get("d", ""))


def _rect(pen: Pen, node: Node) -> None:
    x, y = attribute(node, "x"), attribute(node, "y")
    width, height = attribute(node, "width"), attribute(node, "height")
    rx = attribute(node, "rx", attribute(node, "ry"))
    ry = attribute(node, "ry", rx)
    rx, ry = min(rx, width / 2), min(ry, height / 2)
    if width <= 0 or height <= 0:
        return
    if rx <= 0 or ry <= 0:
        pen.rectangle(x, y, width, height)
        return
    hx, hy, right, bottom = rx * (1 - _ROUND), ry * (1 - _ROUND), x + width, y + height
    pen.move_to(x + rx, y)
    pen.line_to(right - rx, y)
    pen.curve_to(right - hx, y, right, y + hy, right, y + ry)
    pen.line_to(right, bottom - ry)
    pen.curve_to(right, bottom - hy, right - hx, bottom, right - rx, bottom)
    pen.line_to(x + rx, bottom)
    pen.curve_to(x + hx, bottom, x, bottom - hy, x, bottom - ry)
    pen.line_to(x, y + ry)
    pen.curve_to(x, y + hy, x + hx, y, x + rx, y)
    pen.close_path()


def _line(pen: Pen, node: Node) -> None:
    pen.move_to(attribute(node, "x1"), attribute(node, "y1"))
    pen.line_to(attribute(node, "x2"), attribute(node, "y2"))


def _circle(pen: Pen, node: Node) -> None:
    radius = attribute(node, "r")
    if radius > 0:
        pen.new_sub_path()
        pen.arc(attribute(node, "cx"), attribute(node, "cy"), radius, 0, 2 * math.pi)
        pen.close_path()


def _ellipse(pen: Pen, node: Node) -> None:
    rx, ry = attribute(node, "rx"), attribute(node, "ry")
    if rx > 0 and ry > 0:
        pen.save()
        pen.translate(attribute(node, "cx"), attribute(node, "cy"))
        pen.scale(rx, ry)
        pen.new_sub_path()
        pen.arc(0, 0, 1, 0, 2 * math.pi)
        pen.close_path()
        pen.restore()


def _polyline(pen: Pen, node: Node) -> None:
    trace_points(pen, node.own.get("points", ""), close=False)


def _polygon(pen: Pen, node: Node) -> None:
    trace_points(pen, node.own.get("points", ""), close=True)


_LANES: dict[str, Callable[[Canvas, Node], None]] = {
    "g": Canvas.group,
    "image": Canvas.image,
    "text": Canvas.group,
    "path": _shape(_path),
    "rect": _shape(_rect),
    "line": _shape(_line),
    "circle": _shape(_circle),
    "ellipse": _shape(_ellipse),
    "polyline": _shape(_polyline),
    "polygon": _shape(_polygon),
}
