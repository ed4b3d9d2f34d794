"""Read a page's SVG into a tree of nodes, refusing what the press would not draw faithfully."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from xml.parsers import expat

from publisher.press.svg.dialect import (
    ARTIFACT,
    CHILDREN_ONLY,
    DEFINITIONS,
    DRAWN,
    GROUPING,
    HARMLESS_VALUES,
    INHERITED,
    INLINE,
    PARENTS,
    PICTURES,
    REFUSED,
    SCOPES,
    SILENT,
    SVG_NAMESPACE,
    TAGS,
    TEXTS,
)

MAX_DEPTH = 150
_LINK = "http://www.w3.org/1999/xlink href"


class PageError(Exception):
    """A mistake on a page, what to do about it, and the line of its SVG (0: unknown)."""

    def __init__(self, message: str, hint: str, line: int = 0) -> None:
        super().__init__(message)
        self.message, self.hint, self.line = message, hint, line


@dataclass(slots=True, eq=False)
class Node:
    """An element. `own`: the attributes written on it. `style`: the inherited ones that hold
    here; children without any of their own share their parent's, the same object.

    `text` stands before the first child; text after a child is a tspan of its own.
    `parts` is True if some element inside it has a tag: then its own words and shapes need one.
    `blank_after` is True for a text whose last word ends before the next text of its block.
    """

    name: str
    own: Mapping[str, str]
    style: dict[str, str]
    line: int
    text: str
    children: list[Node]
    parts: bool = False
    blank_after: bool = False


def read_tree(svg: str, by_byte: bool = False) -> Node:
    """SVG text → the tree of its nodes. PageError if it is not XML, or not what the press draws.

    `by_byte`: nodes and errors have the byte of the text in place of the line.
    """
    reader = _Reader("CurrentByteIndex" if by_byte else "CurrentLineNumber")
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.buffer_text = True
    reader.parser = parser
    parser.StartElementHandler = reader.start
    parser.EndElementHandler = reader.end
    parser.CharacterDataHandler = reader.characters
    parser.StartDoctypeDeclHandler = reader.doctype
    try:
        parser.Parse(svg.encode("utf-8", "surrogatepass"), True)
    except expat.ExpatError as error:
        what = f"the page is not well-formed XML: {expat.ErrorString(error.code)}"
        at = parser.ErrorByteIndex if by_byte else error.lineno
        raise PageError(what, "mend the template", at) from None
    finally:
        del reader.parser  # it holds the reader too: a ring, which would keep the tree in memory
    assert reader.root is not None
    return reader.root


class _Reader:
    """Collects nodes as expat finds their ends."""

    parser: expat.XMLParserType

    def __init__(self, where: str) -> None:
        """`where`: the attribute of the parser that tells where it is."""
        self.where = where
        self.root: Node | None = None
        self.open: list[Node] = []
        self.tags: list[str] = []
        self.last_texts: list[Node | None] = [None]
        """The last text with words of each open block, the innermost at the end."""
        self.skipped = 0

    def start(self, written: str, attributes: dict[str, str]) -> None:
        if self.skipped:
            self.skipped += 1
            return
        name = _NAMES.get(written)
        if name is None:
            self._pass_over(written)
            return
        line = getattr(self.parser, self.where)
        if not _SPECIAL.isdisjoint(attributes):
            _settle(attributes, line)
        parent = self.open[-1] if self.open else None
        node = Node(name, attributes, _style(parent, attributes), line, "", [])
        if parent is None:
            self._begin(node)
        else:
            if (name == "tspan") != (parent.name in TEXTS) or name == "svg":
                raise _misplaced(parent, node)
            parent.children.append(node)
        tag = attributes.get("data-tag")
        if tag is not None:
            self._check_tag(node, tag)
            self.tags.append(tag)
            if _begins_block(tag):
                self.last_texts.append(None)
            self._tell_parents()
        elif "data-body" in attributes:
            self._tell_parents()
        self.open.append(node)
        if len(self.open) > MAX_DEPTH:
            what = f"elements stand more than {MAX_DEPTH} deep inside one another"
            raise PageError(what, "take out groups", line)

    def _begin(self, node: Node) -> None:
        if node.name != "svg":
            what = f"the page begins with <{node.name}>"
            raise PageError(what, "begin it with <svg>", node.line)
        self.root = node

    def _pass_over(self, written: str) -> None:
        """An element that is not drawn: silent or foreign, or else an error."""
        namespace, _, name = written.rpartition(" ")
        if namespace in ("", SVG_NAMESPACE) and name not in SILENT:
            line = getattr(self.parser, self.where)
            raise PageError(f"<{name}> is not drawn", "draw it with shapes and text", line)
        if not self.open:
            raise PageError(f"the page begins with <{name}>", "begin it with <svg>", 1)
        self.skipped = 1

    def _check_tag(self, node: Node, tag: str) -> None:
        own, line = node.own, node.line
        if tag != ARTIFACT and tag not in TAGS:
            what = f"“{tag}” is no structure type"
            raise PageError(what, f"use one of {', '.join(sorted(TAGS))} or Artifact", line)
        around = self.tags[-1] if self.tags else "Document"
        if around == ARTIFACT:
            raise PageError(f"a {tag} stands inside an Artifact", "take one of them out", line)
        if tag in PARENTS and around not in PARENTS[tag]:
            what = f"a {tag} stands inside a {around}"
            raise PageError(what, f"put it into a {' or '.join(sorted(PARENTS[tag]))}", line)
        if tag in PICTURES and not own.get("data-alt"):
            raise PageError(f"a {tag} has no data-alt", "say in words what it shows", line)
        if tag == "Link" and not own.get("data-href"):
            raise PageError("a Link has no data-href", "say where it leads", line)
        if own.get("data-scope", "Row") not in SCOPES:
            what = f"“{own['data-scope']}” is no scope"
            raise PageError(what, "use Row, Column or Both", line)

    def _tell_parents(self) -> None:
        for node in reversed(self.open):
            if node.parts:
                return
            node.parts = True

    def end(self, written: str) -> None:
        if self.skipped:
            self.skipped -= 1
            return
        node = self.open.pop()
        if node.name == "text" and _has_words(node):
            self._end_text(node)
        if "data-tag" in node.own and _begins_block(self.tags.pop()):
            self.last_texts.pop()

    def _end_text(self, text: Node) -> None:
        """Keep the words of a text apart from those before it in the same block, as readers of
        the tags take them one after the other (ISO 32000-1, 14.8.2.5)."""
        around = self.tags[-1] if self.tags else "Document"
        if around == ARTIFACT or around in GROUPING:
            return
        before = self.last_texts[-1]
        if before is not None:
            before.blank_after = "data-word-goes-on" not in before.own
        self.last_texts[-1] = text

    def characters(self, text: str) -> None:
        if self.skipped:
            return
        node = self.open[-1]
        if node.name not in TEXTS:
            if text.strip():
                what = f"words stand outside a text: “{text.strip()[:40]}”"
                raise PageError(what, "put them into a <text>", getattr(self.parser, self.where))
            return
        around = self.tags[-1] if self.tags else "Document"
        if around in CHILDREN_ONLY and text.strip():
            what = f"“{text.strip()[:40]}” stands in a {around}, but in no part of it"
            raise PageError(what, "give it data-tag TD, LBody, …, or Artifact", node.line)
        if not node.children:
            node.text += text
        else:
            node.children.append(Node("tspan", _NOTHING, node.style, node.line, text, []))

    def doctype(self, *_: object) -> None:
        what = "the page has a DOCTYPE"
        raise PageError(what, "take it out: pages need none", getattr(self.parser, self.where))


_NOTHING: Mapping[str, str] = {}
_SPECIAL = frozenset(REFUSED) | {"style"}
_NAMES = {
    prefix + name: name for name in DRAWN | DEFINITIONS for prefix in ("", f"{SVG_NAMESPACE} ")
}


def _begins_block(tag: str) -> bool:
    return tag != ARTIFACT and tag not in INLINE


def _has_words(node: Node) -> bool:
    return bool(node.text.strip()) or any(map(_has_words, node.children))


def _misplaced(parent: Node, node: Node) -> PageError:
    if node.name == "svg":
        return PageError("an <svg> stands inside another", "use <g> with transform", node.line)
    if node.name == "tspan":
        return PageError("a <tspan> stands outside a <text>", "put it into one", node.line)
    what = f"<{node.name}> stands inside a text"
    return PageError(what, "put it before or after the text", node.line)


def _style(parent: Node | None, attributes: dict[str, str]) -> dict[str, str]:
    if parent is None:
        return {name: value for name, value in attributes.items() if name in INHERITED}
    if INHERITED.isdisjoint(attributes):
        return parent.style
    style = dict(parent.style)
    for name, value in attributes.items():
        if name in INHERITED and value != "inherit":
            style[name] = value
    return style


def _spread_style(attributes: dict[str, str]) -> None:
    """Turn `style="fill: red; …"` into attributes; it wins over an attribute of that name."""
    for declaration in attributes.pop("style").split(";"):
        name, _, value = declaration.partition(":")
        if name.strip():
            attributes[name.strip()] = value.strip()


def _settle(attributes: dict[str, str], line: int) -> None:
    """Read `style="…"` as attributes, and refuse what is not drawn."""
    if "style" in attributes:
        _spread_style(attributes)
    for name in attributes:
        if name in REFUSED and attributes[name].strip() not in HARMLESS_VALUES:
            raise PageError(f"{name} is not drawn", REFUSED[name], line)


def link_of(node: Node) -> str:
    """The href of an image or a gradient, in either of its two spellings."""
    return node.own.get("href") or node.own.get(_LINK) or ""
