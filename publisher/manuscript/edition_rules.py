"""Check what an edition's file says, and lay its look over look.toml: each fault with its line."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping, Sequence
from typing import Any

from publisher.drawing.look_reader import read_look_tables
from publisher.drawing.look_rules import LookError, LookFault
from publisher.errors import Problem, TemplateError
from publisher.manuscript.key_places import place_of
from publisher.manuscript.options import CHOICES, KEYS, OPTIONS
from publisher.model.look import Look
from publisher.tables.words import listed, nearest, shown
from publisher.templates import TemplateFile, Templates

_LOOK = "look.toml"
_Said = tuple[str | tuple[str, int], str, str]
"""A key, perhaps with the place in its list, what is wrong with it, and what to do."""


def chosen(table: Mapping[str, Any], key: str) -> Any:
    """Return what an edition's file chooses of a few values."""
    return table.get(key, CHOICES[key][0])


def faults_of(
    file: TemplateFile, table: Mapping[str, Any], sections: Collection[str]
) -> Iterator[Problem]:
    """Yield all that is wrong in an edition's file but for its look. `sections`: those that there
    are."""
    for said in (_unknown(table), _named(table, sections), _chosen(table), _options(table)):
        for key, what, hint in said:
            keys = (key,) if isinstance(key, str) else key
            yield Problem(place_of(file, *keys), what, hint)


def _unknown(table: Mapping[str, Any]) -> Iterator[_Said]:
    for key in table:
        if key in KEYS:
            continue
        near = nearest(key, KEYS)
        if key in _LOOKS:
            hint = (
                f"write [look.{key}]" if isinstance(table[key], Mapping) else "put it below [look]"
            )
        else:
            hint = f"did you mean {near}?" if near else f"known here: {listed(KEYS, 20)}"
        yield key, f"{key} is not known here", hint


_LOOKS = ("mono", "colours", "lines", "type", "papers", "frame", "chart")


def _named(table: Mapping[str, Any], known: Collection[str]) -> Iterator[_Said]:
    """The title and the sections, which every edition has."""
    title, sections = table.get("title"), table.get("sections")
    if "title" not in table:
        yield "title", "title is missing", 'begin with title = "…"'
    elif not isinstance(title, str) or not title.strip():
        yield "title", f"title must be a text, not {shown(title)}", 'write title = "…"'
    if "sections" not in table:
        yield "sections", "sections is missing", 'write sections = ["cover", "chart", …]'
    elif not isinstance(sections, list) or not all(isinstance(name, str) for name in sections):
        what = "sections must be a list of names in quotation marks"
        yield "sections", what, 'write sections = ["cover", "chart", …]'
    else:
        for at, name in enumerate(sections):
            if name not in known:
                near = nearest(name, known)
                hint = f"did you mean {near}?" if near else f"choose {', '.join(known)}"
                yield ("sections", at), f"there is no section {name}", hint


def _chosen(table: Mapping[str, Any]) -> Iterator[_Said]:
    for key, choices in CHOICES.items():
        if chosen(table, key) not in choices:
            either = " or ".join(f'"{choice}"' for choice in choices)
            yield key, f"{key} must be {either}, not {shown(table[key])}", "mend the line"
    if not isinstance(table.get("release", True), bool):
        what = f"release must be true or false, not {shown(table['release'])}"
        yield "release", what, "mend the line"
    if not isinstance(table.get("look", {}), Mapping):
        yield "look", "look must be a table", "write [look] above its lines"


def _options(table: Mapping[str, Any]) -> Iterator[_Said]:
    for key, option in OPTIONS.items():
        fault = option.fault(table[key]) if key in table else None
        if fault:
            yield key, f"{key} must be {fault}, not {shown(table[key])}", "mend the line"


def read_look(
    templates: Templates, edition: str | None, paper: str, wrong: Sequence[Problem] = ()
) -> Look:
    """look.toml, with what the file of an edition changes. TemplateError with all that is wrong,
    and with what was found wrong before."""
    base = templates.table(_LOOK)
    look = templates.table(edition).get("look", {}) if edition else {}
    changes = look if isinstance(look, Mapping) else {}
    try:
        found = read_look_tables(_merged(base, changes), paper)
    except LookError as error:
        files = templates.file(_LOOK), templates.file(edition) if edition else None
        faults = (_problem(fault, base, changes, *files) for fault in error.faults)
        raise TemplateError(*wrong, *faults) from None
    if wrong:
        raise TemplateError(*wrong)
    return found


def _problem(
    fault: LookFault,
    base: Mapping[str, Any],
    changes: Mapping[str, Any],
    house: TemplateFile,
    edition: TemplateFile | None,
) -> Problem:
    """The fault in the file that has the key; in the writer's, if only one of both is hers."""
    keys = fault.key.split(".")
    here, there = _depth(changes, keys), _depth(base, keys)
    changed = here == len(keys) or here > there or (house.as_installed and bool(changes))
    if edition is not None and changed and not (edition.as_installed and not house.as_installed):
        return Problem(place_of(edition, "look", *keys), str(fault), fault.hint)
    return Problem(place_of(house, *keys), str(fault), fault.hint)


def _depth(table: Any, keys: list[str]) -> int:
    """Return how many of the keys, one below the other, are there."""
    for depth, key in enumerate(keys):
        if not isinstance(table, Mapping) or key not in table:
            return depth
        table = table[key]
    return len(keys)


def _merged(base: Mapping[str, Any], changes: Mapping[str, Any]) -> dict[str, Any]:
    """`base` with the changes laid over it, table by table."""
    merged = dict(base)
    for key, value in changes.items():
        old = merged.get(key)
        both = isinstance(old, Mapping) and isinstance(value, Mapping)
        merged[key] = _merged(old, value) if both else value  # type: ignore[arg-type]
    return merged
