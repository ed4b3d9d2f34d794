"""Let CairoSVG draw what a page's content can't say in a line: shapes with a gradient.

CairoSVG draws the shape alone, on a PDF page of its own as large as the shape, which is then laid
on the page. It is never given a text or an image.
"""

from __future__ import annotations

import io
from typing import Any

import cairocffi
from cairosvg.surface import PDFSurface

from publisher.press.pdf.content import ContentStream, FormXObject, name_of
from publisher.press.svg.clipping import reference
from publisher.press.svg.guard import check_numbers
from publisher.press.svg.matrix import Matrix
from publisher.press.svg.paint import length
from publisher.press.svg.path_pens import Reach, plain_path
from publisher.press.svg.shapes import trace_shape
from publisher.press.svg.tree import Node, PageError, link_of

_GRADIENTS = frozenset({"linearGradient", "radialGradient"})
_ANY_TIME = "2000-01-01T00:00:00Z"
"""The same each time: what is drawn is known by its bytes."""
_MOVED = frozenset({"transform", "clip-path", "clip"})
"""What the page has seen to already."""


class Stock:
    """CairoSVG's drawing, with the gradients that a page defines."""

    def __init__(self, root: Node) -> None:
        self._gradients: dict[str, _StockNode] = {}
        found = {node.own["id"]: node for node in _definitions(root) if "id" in node.own}
        for name, node in found.items():
            check_numbers(node)
            self._gradients[name] = _gradient(node, found, frozenset({name}))

    def draw(self, content: ContentStream, node: Node) -> None:
        """Lay a shape on the page. PageError if CairoSVG can't draw it."""
        for name in ("fill", "stroke"):
            value = node.style.get(name, "")
            if value.startswith("url") and reference(value) not in self._gradients:
                what = f"no gradient is called “{reference(value)}”"
                raise PageError(what, "define it in <defs>", node.line)
        check_numbers(node)
        box = _box(node)
        if box is None:
            return
        left, top, _, height = box
        pdf = self._drawn(node, box)
        name = name_of("R", pdf)
        content.push()
        content.opaque()
        content.transform(Matrix(1.0, 0.0, 0.0, -1.0, left, top + height))
        content.form(name, FormXObject(pdf=pdf))
        content.pop()

    def _drawn(self, node: Node, box: tuple[float, float, float, float]) -> bytes:
        output = io.BytesIO()
        left, top, width, height = box
        try:
            surface = cairocffi.PDFSurface(output, width, height)
            surface.set_metadata(cairocffi.PDF_METADATA_CREATE_DATE, _ANY_TIME)
            context = cairocffi.Context(surface)
            context.translate(-left, -top)
            _Surface(context, self._gradients).draw(_StockNode(node))
            surface.finish()
        except Exception as error:  # CairoSVG raises whatever it meets
            what = f"<{node.name}> can't be drawn: {error}"
            raise PageError(what, "mend its attributes", node.line) from None
        return output.getvalue()


class _Surface(PDFSurface):  # type: ignore[misc]
    """CairoSVG's drawing on a context that is already open."""

    def __init__(self, context: Any, gradients: dict[str, _StockNode]) -> None:
        self.context = context
        self.parent_node = None
        self.context_width = self.context_height = 0.0
        self.font_size, self.dpi = 1.0, 72
        self.stroke_and_fill = True
        self.map_rgba = self.map_image = None
        self.cursor_position, self.cursor_d_position = [0, 0], [0, 0]
        self.text_path_width = 0
        self.markers: dict[str, Any] = {}
        self.patterns: dict[str, Any] = {}
        self.masks: dict[str, Any] = {}
        self.filters: dict[str, Any] = {}
        self.paths: dict[str, Any] = {}
        self.gradients = gradients


def _box(node: Node) -> tuple[float, float, float, float] | None:
    """Left, top, width and height of all that a shape can cover, its line included."""
    reach = Reach()
    trace_shape(reach, node)
    box = reach.box()
    if box is None:
        return None
    miter = length(node.style.get("stroke-miterlimit", "4"), "stroke-miterlimit")
    line = length(node.style.get("stroke-width", "1"), "stroke-width")
    beyond = abs(line) * max(abs(miter), 1.5) + 0.1
    left, top, right, bottom = box
    return left - beyond, top - beyond, right - left + 2 * beyond, bottom - top + 2 * beyond


class _StockNode(dict[str, Any]):
    """An element as CairoSVG reads it: its attributes, and the ones that it inherits."""

    def __init__(self, node: Node) -> None:
        super().__init__(node.style)
        self.update((name, value) for name, value in node.own.items() if name not in _MOVED)
        if node.name == "path":  # CairoSVG's reader of path data can hang on what is none
            self["d"] = plain_path(self.get("d", ""))
        if self.get("fill") == "currentColor":
            self["fill"] = self.get("color", "black")
        if self.get("stroke") == "currentColor":
            self["stroke"] = self.get("color", "black")
        self.tag, self.text = node.name, ""
        self.children = [_StockNode(child) for child in node.children]
        self.vertices = None

    def get_href(self) -> None:
        """References between definitions are settled before CairoSVG sees them."""
        return


def _definitions(node: Node) -> list[Node]:
    if node.name in _GRADIENTS:
        return [node]
    return [found for child in node.children for found in _definitions(child)]


def _gradient(node: Node, known: dict[str, Node], seen: frozenset[str]) -> _StockNode:
    """A gradient with what it takes over from the one its href names."""
    made = _StockNode(node)
    name = link_of(node).removeprefix("#")
    if not name:
        return made
    if name not in known or name in seen:
        raise PageError(f"a gradient leads to “{name}”", "name another gradient", node.line)
    base = _gradient(known[name], known, seen | {name})
    for key, value in base.items():
        made.setdefault(key, value)
    made.children = made.children or base.children
    return made
