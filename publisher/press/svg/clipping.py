"""Read clip paths: shapes outside of which nothing is drawn."""

from __future__ import annotations

from collections.abc import Iterator

from publisher.press.svg.dialect import SHAPES
from publisher.press.svg.matrix import IDENTITY, Matrix
from publisher.press.svg.path_pens import Operators
from publisher.press.svg.shapes import trace_shape
from publisher.press.svg.transforms import read_transform
from publisher.press.svg.tree import Node, PageError

_NOTHING = "0 0 m 0 0 l h"
"""A path without an inside: all is clipped away."""


class Clips:
    """The clip paths that a page defines."""

    def __init__(self, root: Node) -> None:
        self._known = {
            node.own["id"]: node
            for node in _inside(root)
            if node.name == "clipPath" and "id" in node.own
        }

    def path(self, written: str, line: int) -> tuple[str, bool]:
        """Return what `url(#name)` clips with: the operators of its path, and whether it is filled
        even and odd. PageError if there is none of this name, or it holds more than shapes."""
        name = reference(written)
        if name not in self._known:
            raise PageError(f"no clipPath is called “{name}”", "define it in <defs>", line)
        clip = self._known[name]
        if clip.own.get("clipPathUnits", "userSpaceOnUse") != "userSpaceOnUse":
            raise PageError("a clipPath has other units", "use userSpaceOnUse", clip.line)
        shapes = list(_shapes(clip, _matrix(clip, IDENTITY)))
        operators = []
        for shape, matrix in shapes:
            pen = Operators(matrix)
            trace_shape(pen, shape)
            operators.append(pen.text())
        even_odd = any(shape.style.get("clip-rule") == "evenodd" for shape, _ in shapes)
        return " ".join(filter(None, operators)) or _NOTHING, even_odd


def reference(written: str) -> str:
    """The name in `url(#name)`."""
    return written.partition("#")[2].partition(")")[0].strip("'\" ")


def _shapes(node: Node, matrix: Matrix) -> Iterator[tuple[Node, Matrix]]:
    for child in node.children:
        if child.name not in SHAPES and child.name != "g":
            raise PageError(f"a clipPath holds a <{child.name}>", "clip with shapes", child.line)
        if child.own.get("clip-path", "none") != "none":
            raise PageError("a clip-path stands in a clipPath", "clip with shapes", child.line)
        moved = _matrix(child, matrix)
        if child.name == "g":
            yield from _shapes(child, moved)
        else:
            yield child, moved


def _matrix(node: Node, around: Matrix) -> Matrix:
    written = node.own.get("transform")
    return around if written is None else around.after(read_transform(written))


def _inside(node: Node) -> Iterator[Node]:
    for child in node.children:
        yield child
        yield from _inside(child)
