"""Find what a file should have at a key path: the table there, the key's rule, and their names."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import field, replace
from types import UnionType
from typing import Any, Union, get_args, get_origin

from publisher.frozen import frozen
from publisher.tables.findings import KeyPath
from publisher.tables.schema import PLAIN, KeyRule, Schema, hints, rules
from publisher.tables.words import on_one_line, written


@frozen
class Shape:
    """A file's tables as they should be, a dataclass, and as they are.

    `leaves`: the schemas of values by their annotation. `like`: a table that is right, for
    examples of the keys whose rules have none. `at`: the way to the table in its file.
    """

    root: type
    data: Any = None
    leaves: Mapping[Any, Schema] = field(default_factory=lambda: PLAIN)
    like: Mapping[str, Any] = field(default_factory=dict)
    at: KeyPath = ()

    def table(self, path: KeyPath) -> type | None:
        """The table at a way of keys; None: none can stand there. Of several kinds of tables it
        is the one whose `kind` is said, else the first."""
        return _of_its_kind(self.tables(path), value_at(self.data, path))

    def tables(self, path: KeyPath) -> list[type]:
        """The tables of any kind that can stand at a way of keys."""
        return [table for table in _tables(self._hint(path)) if table not in self.leaves]

    def rule(self, path: KeyPath) -> KeyRule:
        """The rule of a key, with a schema and an example as far as they can be had."""
        owner = self.table(path[:-1])
        rule = rules(owner).get(str(path[-1])) if owner else None
        schema, example = (rule.schema, rule.example) if rule else ({}, "")
        return replace(
            rule or KeyRule({}, "", ""),
            schema=schema or self.leaves.get(self._hint(path), {}),
            example=example or self._example(owner, path),
        )

    def is_entry(self, path: KeyPath) -> bool:
        """Return whether what stands there is one of several: in a list, or under a chosen name."""
        return isinstance(path[-1], int) or self.is_mapping(path[:-1])

    def is_mapping(self, path: KeyPath) -> bool:
        """Return whether names of the writer's own stand there."""
        return any(_is_mapping(one) for one in _members(self._hint(path)))

    def thing(self, path: KeyPath) -> str:
        """Return what stands there, by its name: `colour N`, `piece 2 (panel)`."""
        if not path:
            return f"`{self.at[-1]}`" if self.at else "this file"
        if not self.is_entry(path):
            return f"`{path[-1]}`"
        if isinstance(path[-1], str):
            return f"{self.one(path)} {on_one_line(path[-1])}"
        here = value_at(self.data, path)
        names = [here[key] for key in ("id", "name") if key in here] if _is_table(here) else []
        name = f" ({on_one_line(str(names[0]))})" if names else ""
        return f"{self.one(path)} {path[-1] + 1}{name}"

    def one(self, path: KeyPath) -> str:
        """Return what an entry, or a table, is called."""
        group = path[:-1] if self.is_entry(path) else path
        name = str(group[-1])
        return self.rule(group).one or (name if group == path else name.removesuffix("s"))

    def any_one(self, path: KeyPath) -> str:
        """Return what an entry, or a table, is, with its article."""
        if not path:
            return f"`{self.at[-1]}`" if self.at else "the top part of this file"
        name = self.one(path)
        if not self.is_entry(path) and not self.rule(path).one:
            return f"`{name}`"
        return f"an {name}" if name[0] in "aeio" else f"a {name}"

    def homes(self, name: str) -> Iterator[str]:
        """Yield the places in the file where a key of this name belongs."""
        if name in rules(self.root) and not self.at:
            yield "at the top of the file, above the first line in [brackets]"
        for group, rule in rules(self.root).items():
            if rule.example.startswith("["):
                entry: KeyPath = (group, 0 if rule.example.startswith("[[") else "")
                tables = self.tables(entry)
                homes = [table for table in tables if name in rules(table)]
                kind = f' of kind = "{kinds(homes[0])[0]}"' if 0 < len(homes) < len(tables) else ""
                line = "its line" if isinstance(entry[1], int) else "a line such as"
                if homes:
                    yield f"in {self.any_one(entry)}{kind}, under {line} {rule.example}"

    def _hint(self, path: KeyPath) -> Any:
        """The annotation of what stands at a way of keys; None where nothing should."""
        hint, here = self.root, self.data
        for part in path:
            hint, here = _inside(hint, part, here), value_at(here, (part,))
        return hint

    def _example(self, owner: type | None, path: KeyPath) -> str:
        """Return the key as it is written in the table that is right, or with what is usual."""
        value: Any = self.like
        for part in path:
            values = value.values() if isinstance(value, Mapping) else ()
            known = value_at(value, (part,))
            value = next(iter(values), None) if known is None else known
        if value is None and owner:
            defaults = {one.name: one.default for one in dataclasses.fields(owner)}
            value = defaults.get(str(path[-1]))
        if not isinstance(value, bool | int | float | str | list | Mapping):
            return ""
        inner = list(value) if isinstance(value, Mapping) and self.is_mapping(path) else []
        line = f"{path[-1]} = {written(value)}"
        if isinstance(value, Mapping) and (inner or len(line) > _LONGEST):
            entry = inner[:1] if self.tables((*path, "")) else []
            return f"[{'.'.join(map(str, (*path, *entry)))}]"
        return line


_LONGEST = 90
"""Characters of a table that is written in one line."""


def value_at(data: Any, path: KeyPath) -> Any:
    """The value at a way of keys; None if there is none."""
    for part in path:
        try:
            data = data[part]
        except (KeyError, IndexError, TypeError):
            return None
    return data


def kinds(table: type) -> tuple[str, ...]:
    """The values of a table's key `kind` by which it is known."""
    return get_args(hints(table).get("kind"))


def _members(hint: Any) -> tuple[Any, ...]:
    return get_args(hint) if get_origin(hint) in (Union, UnionType) else (hint,)


def _tables(hint: Any) -> list[type]:
    return [o for o in _members(hint) if isinstance(o, type) and dataclasses.is_dataclass(o)]


def _is_table(value: Any) -> bool:
    return isinstance(value, dict)


def _is_mapping(hint: Any) -> bool:
    return _is_a(hint, Mapping)


def _is_a(hint: Any, kind: Any) -> bool:
    origin = get_origin(hint)
    return isinstance(origin, type) and issubclass(origin, kind)


def _of_its_kind(tables: list[type], here: Any) -> type | None:
    kind = here.get("kind") if isinstance(here, dict) else None
    return next((table for table in tables if kind in kinds(table)), next(iter(tables), None))


def _inside(hint: Any, part: str | int, here: Any) -> Any:
    """The annotation of what stands below another."""
    for one in _members(hint):
        if isinstance(part, int) and _is_a(one, Sequence):
            return get_args(one)[0]
        if _is_mapping(one):
            return get_args(one)[1]
    table = _of_its_kind(_tables(hint), here)
    return hints(table).get(str(part)) if table else None
