"""Turn data-tag and its kin into cairo's tags, and keep a record of them for the finishing.

cairo (1.16) gives marked content only to tags that hold no other tag, so words and shapes that
stand right inside a tag with parts are given a tag of their own here: words between blocks a P,
other words a Span, shapes in a Figure a Span, and all other shapes Artifact.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any, NamedTuple
from urllib.parse import quote, urlsplit

from publisher.press.dialect import ARTIFACT, GROUPING, PICTURES
from publisher.press.tree import Node, PageError

SCHEMES = frozenset({"http", "https", "mailto"})
STAND_IN = "NonStruct"
"""What cairo, which has no Artifact, is told instead; the finishing puts that right."""


class TagRecord(NamedTuple):
    """A tag as it was drawn: `role` its type, `parts` whether it holds other tags, `words` the
    text of a link."""

    role: str
    parts: bool = False
    alt: str | None = None
    scope: str | None = None
    words: str | None = None


@dataclass(slots=True)
class _Open:
    role: str
    parts: bool
    begun: bool
    destination: bool


class Tagger:
    """Opens and closes tags on a cairo context; `records` lists all of them in drawing order."""

    def __init__(self, context: Any) -> None:
        self.records: list[TagRecord] = []
        self._context = context
        self._open = [_Open("Document", True, False, False)]
        self._wrapped: str | None = None
        self._grouped = 0

    def begin(self, node: Node) -> bool:
        """Open what a node asks for. True if there is something to `end` after drawing it."""
        role, destination = node.own.get("data-tag"), node.own.get("data-dest")
        around = self._open[-1]
        if role is None and node.name == "text" and around.role in GROUPING and not self._grouped:
            role = "P"
        if role is None and destination is None:
            return False
        if self._grouped:
            what = f"“{role or destination}” stands inside a group with an opacity or a gradient"
            raise PageError(what, "put it on the group itself", node.line)
        self._unwrap()
        parts = around.parts if role is None else node.parts
        self._open.append(
            _Open(role or around.role, parts, role is not None, destination is not None)
        )
        if role is not None:
            self._begin_tag(node, role)
        if destination is not None:
            self._context.tag_begin("cairo.dest", f"name={_quoted(place_name(destination))}")
        return True

    def end(self) -> None:
        """Close what the last `begin` opened."""
        self._unwrap()
        closed = self._open.pop()
        if closed.destination:
            self._context.tag_end("cairo.dest")
        if closed.begun:
            self._context.tag_end(_cairo_role(closed.role))

    def paint(self, words: bool) -> None:
        """Say that words, or shapes, are about to be painted."""
        around = self._open[-1]
        if not around.parts or self._grouped:
            return
        wanted = "Span" if words or around.role in PICTURES else ARTIFACT
        if wanted != self._wrapped:
            self._unwrap()
            self._wrapped = wanted
            self._record(TagRecord(wanted))
            self._context.tag_begin(_cairo_role(wanted))

    def begin_group(self) -> None:
        """From here to `end_group` all that is painted is one picture to cairo."""
        self.paint(words=False)
        self._grouped += 1

    def end_group(self) -> None:
        self._grouped -= 1

    def _begin_tag(self, node: Node, role: str) -> None:
        own = node.own
        scope = own.get("data-scope", "Column") if role == "TH" else None
        words = _words(node) if role == "Link" else None
        self._record(TagRecord(role, node.parts, own.get("data-alt"), scope, words))
        if role == "Link":
            self._context.tag_begin("Link", _link_target(own["data-href"], node.line))
        else:
            self._context.tag_begin(_cairo_role(role))

    def _record(self, record: TagRecord) -> None:
        self.records.append(record)

    def _unwrap(self) -> None:
        if self._wrapped is not None:
            self._context.tag_end(_cairo_role(self._wrapped))
            self._wrapped = None


def place_name(name: str) -> str:
    """A data-dest name as the PDF has it: the same, but for characters that URLs escape."""
    return quote(name, safe="")


def _cairo_role(role: str) -> str:
    return STAND_IN if role == ARTIFACT else role


def _quoted(text: str) -> str:
    return "'" + text.replace("\\", "\\\\").replace("'", "\\'") + "'"


def _link_target(target: str, line: int) -> str:
    if target.startswith("#"):
        return f"dest={_quoted(place_name(target[1:]))}"
    if urlsplit(target).scheme.lower() not in SCHEMES:
        what = f"a link leads to “{target[:60]}”"
        raise PageError(what, "begin it with #, https:, http: or mailto:", line)
    return f"uri={_quoted(quote(target, safe=_URI_CHARACTERS))}"


_URI_CHARACTERS = "%:/?#[]@!$&'()*+,;=-._~"


def _words(node: Node) -> str:
    parts = [node.text] if node.name in ("text", "tspan") else []
    parts += [_words(child) for child in node.children]
    return " ".join("".join(parts).split())
