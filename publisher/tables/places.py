"""Find the lines of keys and values in TOML text, by its concrete syntax tree."""

from __future__ import annotations

from typing import TYPE_CHECKING

from publisher.frozen import frozen
from publisher.tables.findings import KeyPath

if TYPE_CHECKING:
    from tree_sitter import Node


@frozen
class Start:
    """The beginning of a text value: its line from 1, and the signs before it on that line."""

    line: int
    before: int
    in_lines: bool
    """Whether each line of the value is a line of the file."""


class Places:
    """The places of all keys and values of a TOML text."""

    def __init__(self, text: str) -> None:
        self._lines: dict[KeyPath, int] = {(): 1}
        self._values: dict[KeyPath, Node] = {}
        self._items: dict[KeyPath, int] = {}
        self._text = text
        for node in tree(text).children:
            self._read_top(node)

    def line(self, path: KeyPath) -> int:
        """The line of a key; of one that is missing, the line of the table that lacks it."""
        while path not in self._lines:
            path = path[:-1]
        return self._lines[path]

    def start(self, path: KeyPath) -> Start | None:
        """Return where a text value begins; None if there is none there."""
        node = self._values.get(path)
        if node is None or node.type != "string" or node.text is None:
            return None
        line, raw = node.start_point.row + 1, node.text.decode()
        if raw[:3] not in ('"""', "'''"):
            return Start(line, 0, False)
        if raw[3:4] == "\n":
            return Start(line + 1, 0, True)
        before = self._text.encode()[: node.start_byte].decode().rpartition("\n")[2]
        return Start(line, len(before) + 3, True)

    def sign(self, path: KeyPath, sign: str) -> tuple[int, int] | None:
        """The line and column of a character in a text value; None if it isn't written there as
        it is."""
        node = self._values.get(path)
        at = node.text.find(sign.encode()) if node is not None and node.text else -1
        if node is None or at < 0:
            return None
        before = self._text.encode()[: node.start_byte + at].decode()
        return before.count("\n") + 1, len(before) - before.rfind("\n")

    def value(self, path: KeyPath) -> Node | None:
        """The node of a value; None if there is none there."""
        return self._values.get(path)

    def _read_top(self, node: Node) -> None:
        if node.type == "pair":
            self._read_pair((), node)
        elif node.type in ("table", "table_array_element"):
            names = [child for child in node.children if child.type in _KEYS]
            path = self._header(key_parts(names[0]), node) if names else ()
            for child in node.children:
                if child.type == "pair":
                    self._read_pair(path, child)

    def _header(self, keys: tuple[str, ...], node: Node) -> KeyPath:
        """The way to a table: a list's name leads to its last item so far."""
        path: KeyPath = ()
        for index, key in enumerate(keys):
            path = (*path, key)
            opens = node.type == "table_array_element" and index == len(keys) - 1
            count = self._items.get(path, 0)
            if opens:
                self._lines.setdefault(path, node.start_point.row + 1)
                self._items[path] = count + 1
                path = (*path, count)
            elif count:
                path = (*path, count - 1)
            self._lines.setdefault(path, node.start_point.row + 1)
        return path

    def _read_pair(self, path: KeyPath, node: Node) -> None:
        name, _, value = node.children[:3]
        for key in key_parts(name):
            path = (*path, key)
            self._lines.setdefault(path, node.start_point.row + 1)
        self._read_value(path, value)

    def _read_value(self, path: KeyPath, node: Node) -> None:
        self._values[path] = node
        if node.type == "inline_table":
            for child in node.children:
                if child.type == "pair":
                    self._read_pair(path, child)
        elif node.type == "array":
            items = [child for child in node.named_children if child.type != "comment"]
            for index, item in enumerate(items):
                self._lines[*path, index] = item.start_point.row + 1
                self._read_value((*path, index), item)


def line_of(text: str, path: KeyPath) -> int:
    """Find the line of a key; of one that is missing, the line of the table that lacks it."""
    return Places(text).line(path)


_DEEPEST = 8
_KEYS = ("bare_key", "quoted_key", "dotted_key")


def key_parts(node: Node) -> tuple[str, ...]:
    """The parts of a key as TOML means them; of a very deep one only the first."""
    parts: list[str] = []
    waiting = [node]
    while waiting and len(parts) < _DEEPEST:
        part = waiting.pop()
        if part.type == "dotted_key":
            waiting += reversed([child for child in part.children if child.type in _KEYS])
        else:
            parts.append(_plain(part))
    return tuple(parts)


def _plain(node: Node) -> str:
    raw = (node.text or b"").decode()
    if node.type == "quoted_key":
        import tomllib

        (raw,) = tomllib.loads(f"{raw} = 0")
    return raw


def tree(text: str) -> Node:
    """The whole text's node; what can't be read of it are error nodes."""
    import tree_sitter_toml
    from tree_sitter import Language, Parser

    parser = Parser(Language(tree_sitter_toml.language()))
    return parser.parse(text.encode()).root_node
