"""Read an edition: which sections a book has, and what it changes in the look."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any, Literal

from publisher.drawing.look import Look
from publisher.errors import Place, Problem, TemplateError
from publisher.frozen import frozen
from publisher.templates import Templates

Hand = Literal["right", "left"]
Form = Literal["pages", "text", "bench"]


@frozen
class Edition:
    """One way to publish a pattern. `options` are read by the sections that know them."""

    name: str
    title: str
    sections: tuple[str, ...]
    look: Look
    options: Mapping[str, Any]
    path: str
    hand: Hand = "right"
    form: Form = "pages"

    def option(self, key: str, default: Any, least: float | None = None) -> Any:
        """An option of the edition's file, of the same kind as the default, no less than this."""
        value = self.options.get(key, default)
        if isinstance(default, float) and type(value) is int:
            value = float(value)
        if type(value) is not type(default):
            raise _error(
                self.path, f"{key} must be like {_in_toml(default)}, not {_in_toml(value)}"
            )
        if least is not None and value < least:
            raise _error(self.path, f"{key} must be {least:g} or more, not {value:g}")
        return value


def house_look(templates: Templates, paper: str) -> Look:
    """The look of look.toml alone. TemplateError names the key that is wrong."""
    try:
        return Look.read(templates.table("look.toml"), paper)
    except ValueError as error:
        path = templates.file("look.toml").path
        raise TemplateError(Problem(Place(path), str(error), "mend the file")) from None


def read_edition(
    templates: Templates, name: str, paper: str, more: Mapping[str, Any] = MappingProxyType({})
) -> Edition:
    """Lay an edition's look over look.toml; TemplateError says which file and key is wrong.

    `more` are options that take the place of the file's own.
    """
    return _read(templates, _known(templates, name), name, paper, more)


def read_errata_edition(
    templates: Templates, paper: str, form: Form, hand: Hand = "right"
) -> Edition:
    """The look and title of errata, which are made with a release and never by themselves."""
    edition = _read(templates, "errata.toml", "errata", paper, {})
    return replace(edition, form=form, hand=hand)


def _read(
    templates: Templates, file: str, name: str, paper: str, more: Mapping[str, Any]
) -> Edition:
    table = templates.table(file)
    path = templates.file(file).path
    for key in ("title", "sections"):
        if key not in table:
            raise _error(path, f"{key} is missing")
    sections = table["sections"]
    if not isinstance(sections, list) or not all(isinstance(item, str) for item in sections):
        raise _error(path, "sections must be a list of names in quotation marks")
    changes = table.get("look", {})
    if not isinstance(changes, Mapping):
        raise _error(path, "look must be a table: write [look] above its lines")
    look = _look(templates, changes, path, paper)
    options = {key: value for key, value in table.items() if key not in _OWN_KEYS} | dict(more)
    hand: Hand = _one_of(templates, file, *_HANDS)
    form: Form = _one_of(templates, file, *_FORMS)
    title = str(table["title"])
    return Edition(name, title, tuple(sections), look, options, path, hand, form)


_OWN_KEYS = ("title", "sections", "look", "hand", "form", "release")
_HANDS = "hand", ("right", "left")
_FORMS = "form", ("pages", "text", "bench")


def edition_hand(templates: Templates, name: str) -> Hand:
    """The hand that an edition is for: `left` asks for a pattern `for_left_hand`, planned anew."""
    hand: Hand = _one_of(templates, _known(templates, name), *_HANDS)
    return hand


def edition_form(templates: Templates, name: str) -> Form:
    """What an edition is made as: pages for a PDF; text (a plain one and a web page); or a web page
    to work from at the bench."""
    form: Form = _one_of(templates, _known(templates, name), *_FORMS)
    return form


def is_released(templates: Templates, name: str) -> bool:
    """Does an edition go into releases, if no others are named?"""
    file = _known(templates, name)
    released = templates.table(file).get("release", True)
    if not isinstance(released, bool):
        raise _error(templates.file(file).path, "release must be true or false")
    return released


def _one_of(templates: Templates, file: str, key: str, choices: tuple[str, ...]) -> Any:
    """What an edition's file chooses; the first where it says nothing."""
    chosen = templates.table(file).get(key, choices[0])
    if chosen not in choices:
        either = " or ".join(f'"{choice}"' for choice in sorted(choices))
        raise _error(templates.file(file).path, f"{key} must be {either}")
    return chosen


def counts_students(templates: Templates, name: str) -> bool:
    """Does what an edition says depend on how many students there are?"""
    table = templates.table(_known(templates, name))
    sections = table.get("sections")
    return "students" in table or (isinstance(sections, list) and "kit" in sections)


def _known(templates: Templates, name: str) -> str:
    """The file of an edition."""
    file = f"editions/{name}.toml"
    if file not in templates.files:
        known = ", ".join(templates.names("editions"))
        raise TemplateError(
            Problem(Place(f"templates/{file}"), f"there is no edition {name}", f"choose {known}")
        )
    return file


def _look(templates: Templates, changes: Mapping[str, Any], path: str, paper: str) -> Look:
    base = templates.table("look.toml")
    try:
        return Look.read(_merged(base, changes), paper)
    except ValueError as error:
        both = f"{templates.file('look.toml').path} or {path}"
        raise TemplateError(Problem(Place(path), str(error), f"mend it in {both}")) from None


def _merged(base: Mapping[str, Any], changes: Mapping[str, Any]) -> dict[str, Any]:
    """`base` with the changes laid over it, table by table."""
    merged = dict(base)
    for key, value in changes.items():
        old = merged.get(key)
        both = isinstance(old, Mapping) and isinstance(value, Mapping)
        merged[key] = _merged(old, value) if both else value  # type: ignore[arg-type]
    return merged


def _in_toml(value: Any) -> str:
    return str(value).lower() if isinstance(value, bool) else repr(value)


def _error(path: str, message: str) -> TemplateError:
    return TemplateError(Problem(Place(path), message, "mend the edition's file"))
