"""Let CairoSVG draw what the canvas does not: gradients, clip paths, groups with an opacity.

CairoSVG's surface is given the canvas's own cairo context and just the element in question; what
stands inside that element goes back to the canvas. It is never given a text or an image.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from cairosvg.surface import PDFSurface

from publisher.press.dialect import SHAPES
from publisher.press.guard import check_numbers
from publisher.press.paint import attribute
from publisher.press.paths import plain_path
from publisher.press.tags import Tagger
from publisher.press.tree import Node, PageError, link_of

_GRADIENTS = frozenset({"linearGradient", "radialGradient"})


class StockSurface(PDFSurface):  # type: ignore[misc]
    """CairoSVG's drawing on a context that is already open. `draw_inside` draws the children."""

    def __init__(
        self, context: Any, tagger: Tagger, root: Node, draw_inside: Callable[[Node], None]
    ) -> None:
        self.context, self._tagger, self._draw_inside = context, tagger, draw_inside
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
        self.gradients: dict[str, _StockNode] = {}
        self.paths: dict[str, _StockNode] = {}
        self._define(root)

    def draw_node(self, node: Node) -> None:
        """Draw one element of the page. PageError if CairoSVG can't."""
        self._check_names(node)
        group = node.name == "g"
        check_numbers(node, inside=not group)
        opaque = attribute(node, "opacity", 1.0) == 1.0
        if group and not opaque:
            self._tagger.begin_group()
        elif not group:
            self._tagger.paint(words=False)
        try:
            super().draw(_StockNode(node))
        except PageError:
            raise
        except Exception as error:  # CairoSVG raises whatever it meets
            what = f"<{node.name}> can't be drawn: {error}"
            raise PageError(what, "mend its attributes", node.line) from None
        if group and not opaque:
            self._tagger.end_group()

    def draw(self, node: _StockNode) -> None:
        """Called by CairoSVG for whatever stands inside the element it was asked for."""
        if not self.stroke_and_fill:
            super().draw(node)
            return
        left, top, right, bottom = self.context.clip_extents()
        if left < right and top < bottom:  # cairo loses its tags where nothing can be seen
            self._draw_inside(node.origin)

    def _check_names(self, node: Node) -> None:
        for name in ("fill", "stroke"):
            value = node.style.get(name, "")
            if value.startswith("url") and node.name != "g":
                self._check(value, self.gradients, "gradient", node.line)
        clip = node.own.get("clip-path", "none")
        if clip != "none":
            self._check(clip, self.paths, "clipPath", node.line)

    def _check(self, value: str, known: dict[str, _StockNode], what: str, line: int) -> None:
        name = value.partition("#")[2].partition(")")[0].strip("'\" ")
        if name not in known:
            raise PageError(f"no {what} is called “{name}”", "define it in <defs>", line)

    def _define(self, root: Node) -> None:
        found = {node.own["id"]: node for node in _definitions(root) if "id" in node.own}
        for name, node in found.items():
            check_numbers(node)
            if node.name in _GRADIENTS:
                self.gradients[name] = _gradient(node, found, frozenset({name}))
            else:
                self.paths[name] = _clip(node)


class _StockNode(dict[str, Any]):
    """An element as CairoSVG reads it: its attributes, and the ones that it inherits."""

    def __init__(self, node: Node) -> None:
        super().__init__(node.style)
        self.update(node.own)
        if node.name == "path":  # CairoSVG's reader of path data can hang on what is none
            self["d"] = plain_path(self.get("d", ""))
        if self.get("fill") == "currentColor":
            self["fill"] = self.get("color", "black")
        if self.get("stroke") == "currentColor":
            self["stroke"] = self.get("color", "black")
        self.origin, self.tag, self.text = node, node.name, ""
        self.children = [_StockNode(child) for child in node.children]
        self.vertices = None

    def get_href(self) -> None:
        """References between definitions are settled before CairoSVG sees them."""
        return


def _definitions(node: Node) -> list[Node]:
    if node.name in _GRADIENTS or node.name == "clipPath":
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


def _clip(node: Node) -> _StockNode:
    if node.own.get("clipPathUnits", "userSpaceOnUse") != "userSpaceOnUse":
        raise PageError("a clipPath has other units", "use userSpaceOnUse", node.line)
    for child in _inside(node):
        if child.name not in SHAPES and child.name != "g":
            raise PageError(f"a clipPath holds a <{child.name}>", "clip with shapes", child.line)
    return _StockNode(node)


def _inside(node: Node) -> Iterator[Node]:
    for child in node.children:
        yield child
        yield from _inside(child)
