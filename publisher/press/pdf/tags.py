"""Turn data-tag and its kin into marked content, structure elements, links and places.

Only what is painted is marked, and each stretch of it belongs to one element (ISO 32000-1, 14.7).
So words and shapes that stand right inside a tag with parts are given a tag of their own here:
words between blocks a P, other words a Span, shapes in a Figure a Span, all other shapes Artifact.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from urllib.parse import quote, urlsplit

from publisher.frozen import frozen
from publisher.press.pdf.content import ContentStream
from publisher.press.svg.dialect import ARTIFACT, GROUPING, PICTURES
from publisher.press.svg.matrix import Bounds
from publisher.press.svg.tree import Node, PageError

SCHEMES = frozenset({"http", "https", "mailto"})
_URI_CHARACTERS = "%:/?#[]@!$&'()*+,;=-._~"

Box = tuple[float, float, float, float]


@dataclass(slots=True, eq=False)
class Element:
    """A structure element. `parts`: the numbers of its marked content on the page, and elements.
    `words`: the text of a link."""

    role: str
    alt: str | None = None
    scope: str | None = None
    words: str | None = None
    parts: list[int | Element] = field(default_factory=list)


@frozen
class LinkArea:
    """The area of a link's words on the page, in mm from its top left, and where it leads."""

    element: Element
    box: Box
    target: str


@dataclass(slots=True)
class PageInfo:
    """The things that a page tells of itself besides its picture. `marks`: each mark's element.
    `places`: name, line of the SVG, and left and top in mm. `targets`: name and line of every place
    in the book that a link leads to."""

    elements: list[Element] = field(default_factory=list)
    marks: list[Element] = field(default_factory=list)
    links: list[LinkArea] = field(default_factory=list)
    places: list[tuple[str, int, float, float]] = field(default_factory=list)
    targets: list[tuple[str, int]] = field(default_factory=list)


@dataclass(slots=True)
class _Open:
    role: str
    parts: bool
    element: Element | None
    marked: bool = False
    place: str | None = None
    line: int = 0
    target: str | None = None
    bounds: Bounds | None = None


class Tagger:
    """Opens and closes tags on a page's content."""

    def __init__(self, content: ContentStream, told: PageInfo) -> None:
        self.told = told
        self._content = content
        self._open = [_Open("Document", True, None)]
        self._wrapped: str | None = None
        self._grouped = 0

    def begin(self, node: Node) -> bool:
        """Open what a node asks for. True if there is something to `end` after drawing it."""
        own = node.own
        role, place = own.get("data-tag"), own.get("data-dest")
        around = self._open[-1]
        if role is None and node.name == "text" and around.role in GROUPING and not self._grouped:
            role = "P"
        if role is None and place is None:
            return False
        if self._grouped:
            what = f"“{role or place}” stands inside a group with an opacity or a gradient"
            raise PageError(what, "put it on the group itself", node.line)
        self.unwrap()
        if role is None:
            opened = _Open(around.role, around.parts, None)
        else:
            opened = self._begin_tag(node, role)
        opened.place, opened.line = place, node.line
        if place is not None or opened.target is not None:
            opened.bounds = Bounds()
            self._content.watched.append(opened.bounds)
        self._open.append(opened)
        return True

    def end(self) -> None:
        """Close what the last `begin` opened."""
        self.unwrap()
        closed = self._open.pop()
        if closed.marked:
            self._content.write("EMC")
        if closed.bounds is None:
            return
        self._content.watched.remove(closed.bounds)
        box = closed.bounds.box
        if closed.place is not None:
            left, top = box[:2] if box else (0.0, 0.0)
            self.told.places.append((closed.place, closed.line, left, top))
        if closed.target is not None and closed.element is not None and box:
            self.told.links.append(LinkArea(closed.element, box, closed.target))

    def paint(self, words: bool) -> None:
        """Say that words, or shapes, are about to be painted."""
        around = self._open[-1]
        if not around.parts or self._grouped:
            return
        if words and around.role in GROUPING:
            wanted = "P"
        else:
            wanted = "Span" if words or around.role in PICTURES else ARTIFACT
        if wanted != self._wrapped:
            self.unwrap()
            self._wrapped = wanted
            self._mark(None if wanted == ARTIFACT else self._element(Element(wanted)))

    def unwrap(self) -> None:
        """End a tag that `paint` gave: the next words or shapes have one of their own."""
        if self._wrapped is not None and not self._grouped:
            self._content.write("EMC")
            self._wrapped = None

    def hold(self, told: PageInfo, line: int) -> None:
        """Take in what a body tells, whose marks are there already; it begins in a line."""
        self.unwrap()
        for element in told.elements:
            self._element(element)
        self.told.links += told.links
        above = line - 1
        self.told.places += [(name, at + above, x, y) for name, at, x, y in told.places]
        self.told.targets += [(name, at + above) for name, at in told.targets]

    def begin_group(self) -> None:
        """From here to `end_group` all that is painted is one picture."""
        self.paint(words=False)
        self._grouped += 1

    def end_group(self) -> None:
        self._grouped -= 1

    def _begin_tag(self, node: Node, role: str) -> _Open:
        own = node.own
        if role == ARTIFACT:
            self._mark(None)
            return _Open(role, False, None, marked=True)
        scope = own.get("data-scope", "Column") if role == "TH" else None
        target = _target(own["data-href"], node.line) if role == "Link" else None
        words = _words(node) if role == "Link" else None
        if target and target.startswith("#"):
            self.told.targets.append((own["data-href"][1:], node.line))
        element = self._element(Element(role, own.get("data-alt"), scope, words))
        parts = node.parts or role in GROUPING
        painted = not parts and (bool(node.children) or node.name != "g")
        if painted:
            self._mark(element)
        return _Open(role, parts, element, marked=painted, target=target)

    def _element(self, element: Element) -> Element:
        """Put an element into the one around it."""
        around = next((opened.element for opened in reversed(self._open) if opened.element), None)
        (around.parts if around else self.told.elements).append(element)
        return element

    def _mark(self, element: Element | None) -> None:
        if element is None:
            self._content.write("/Artifact BMC")
            return
        number = len(self.told.marks)
        self.told.marks.append(element)
        element.parts.append(number)
        self._content.write(f"/{element.role}<</MCID {number}>>BDC")


def place_name(name: str) -> str:
    """A data-dest name as the PDF has it: the same, but for characters that URLs escape."""
    return quote(name, safe="")


def _target(target: str, line: int) -> str:
    """`#name` or an address, with nothing but what addresses may hold."""
    if target.startswith("#"):
        return "#" + place_name(target[1:])
    try:
        scheme = urlsplit(target).scheme.lower()
    except ValueError:
        scheme = ""
    if scheme not in SCHEMES:
        what = f"a link leads to “{target[:60]}”"
        raise PageError(what, "begin it with #, https:, http: or mailto:", line)
    return quote(target, safe=_URI_CHARACTERS)


def _words(node: Node) -> str:
    parts = [node.text] if node.name in ("text", "tspan") else []
    parts += [_words(child) for child in node.children]
    return " ".join("".join(parts).split())
