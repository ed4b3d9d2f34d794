"""Draw the bodies of pages: the same body in the same place is drawn once.

A body is known by its own SVG and by what its frame lays on it. What a frame says around it, a
header or a number, can change without it.
"""

from __future__ import annotations

from typing import NamedTuple

from publisher.compression import deflated
from publisher.press.pdf.canvas import Forms, PageCanvas
from publisher.press.pdf.content import FRESH, ContentStream, Resources
from publisher.press.pdf.tags import PageInfo, Tagger
from publisher.press.svg.dialect import GROUPING, SVG_NAMESPACE
from publisher.press.svg.matrix import Matrix
from publisher.press.svg.transforms import read_transform
from publisher.press.svg.tree import Node, read_tree
from publisher.store import Store

_APART = frozenset({"opacity", "display", "data-dest"})
"""What a group says of all in it, so that its parts can't be drawn apart."""


class BodyPlace(NamedTuple):
    """The place of a frame's body: the style that holds there, and the matrix to the frame's own
    units."""

    root: Node
    style: tuple[tuple[str, str], ...]
    matrix: Matrix


class Fragment(NamedTuple):
    """A drawn body: its operators, deflated; what they name and what it tells, its marks counted
    from 0. `missing`: (face, character, text) of what has no glyph."""

    stream: bytes
    needs: Resources
    told: PageInfo
    missing: list[tuple[str, str, str]]


def body_place(root: Node) -> BodyPlace | None:
    """Return where a frame's body stands; None if it stands nowhere, twice, or where it can't be
    drawn apart from its frame: in a definition, in a group with an opacity, in a tag that holds no
    blocks, in a place whose box it makes."""
    found = _places(root, Matrix(), ok=True)
    if len(found) != 1:
        return None
    node, matrix, ok = found[0]
    return BodyPlace(root, tuple(sorted(node.style.items())), matrix) if ok else None


def _places(node: Node, matrix: Matrix, *, ok: bool) -> list[tuple[Node, Matrix, bool]]:
    """Every place of a body, the matrix there, and whether it can be drawn apart."""
    own = node.own
    if "transform" in own:
        matrix = matrix.after(read_transform(own["transform"]))
    if "data-body" in own:
        return [(node, matrix, ok and len(own) == 1 and not node.children)]
    ok = ok and node.name in ("svg", "g") and _APART.isdisjoint(own)
    ok = ok and own.get("data-tag", "Div") in GROUPING
    return [found for child in node.children for found in _places(child, matrix, ok=ok)]


def draw_body(
    body: str, place: BodyPlace, page_matrix: Matrix, forms: Forms, store: Store
) -> Fragment:
    """A body in its place. PageError if it can't be drawn apart from its frame."""
    matrix = page_matrix.after(place.matrix)

    def draw() -> Fragment:
        return _draw(body, place, matrix, forms)

    return store.get(("body", place.style, matrix, body), draw, _weight)


def _draw(body: str, place: BodyPlace, matrix: Matrix, forms: Forms) -> Fragment:
    needs, told = Resources(), PageInfo()
    content = ContentStream(needs, matrix, f"q {FRESH}")
    tagger = Tagger(content, told)
    style = "".join(f' {name}="{_escaped(value)}"' for name, value in place.style)
    root = read_tree(f'<svg xmlns="{SVG_NAMESPACE}"{style}>{body}</svg>')
    canvas = PageCanvas(content, tagger, root, forms)
    canvas.draw_page()
    tagger.unwrap()
    content.write("Q")
    stream = deflated(content.text().encode("latin-1"))
    return Fragment(stream, needs, told, canvas.setter.missing)


def _weight(fragment: Fragment) -> int:
    """Its bytes, about."""
    forms, rasters = fragment.needs.forms.values(), fragment.needs.rasters.values()
    drawn = sum(len(form.operators) + len(form.pdf) for form in forms)
    return len(fragment.stream) + drawn + sum(len(raster.data) for raster in rasters)


def _escaped(value: str) -> str:
    return value.replace("&", "&amp;").replace('"', "&quot;").replace("<", "&lt;")
