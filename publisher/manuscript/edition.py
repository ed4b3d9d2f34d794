"""Read an edition: which sections a book has, and what it changes in the look."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import Any, Literal

from publisher.errors import Place, Problem, TemplateError
from publisher.frozen import frozen
from publisher.manuscript.edition_rules import chosen, faults_of, read_look
from publisher.manuscript.options import OPTIONS, WRITERS
from publisher.model.look import Look
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
    hand: Hand = "right"
    form: Form = "pages"

    def option(self, key: str) -> Any:
        """An option of the edition's file, or what is usual; of the kind that it always has."""
        usual = OPTIONS[key].usual
        value = self.options.get(key, usual)
        return float(value) if isinstance(usual, float) else value


def house_look(templates: Templates, paper: str) -> Look:
    """The look of look.toml alone. TemplateError names every key that is wrong."""
    return read_look(templates, None, paper)


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
    edition = _read(templates, _ERRATA_FILE, "errata", paper, {})
    return replace(edition, form=form, hand=hand)


def _read(
    templates: Templates, file: str, name: str, paper: str, more: Mapping[str, Any]
) -> Edition:
    table = templates.table(file)
    known = WRITERS if file != _ERRATA_FILE else _ERRATA
    wrong = list(faults_of(templates.file(file), table, known))
    look = read_look(templates, file, paper, wrong)
    options = {key: table[key] for key in OPTIONS if key in table} | dict(more)
    hand: Hand = chosen(table, "hand")
    form: Form = chosen(table, "form")
    return Edition(name, table["title"], tuple(table["sections"]), look, options, hand, form)


_ERRATA_FILE = "errata.toml"
_ERRATA = ("errata",)


def edition_hand(templates: Templates, name: str) -> Hand:
    """The hand that an edition is for: `left` asks for a pattern `for_left_hand`, planned anew."""
    hand: Hand = chosen(_checked(templates, name), "hand")
    return hand


def edition_form(templates: Templates, name: str) -> Form:
    """Return what an edition is made as: pages for a PDF; text (a plain one and a web page); or a
    web page to work from at the bench."""
    form: Form = chosen(_checked(templates, name), "form")
    return form


def is_released(templates: Templates, name: str) -> bool:
    """Does an edition go into releases, if no others are named?"""
    return _checked(templates, name).get("release", True) is True


def counts_students(templates: Templates, name: str) -> bool:
    """Does what an edition says depend on how many students there are?"""
    table = templates.table(_known(templates, name))
    sections = table.get("sections")
    return "students" in table or (isinstance(sections, list) and "kit" in sections)


def _checked(templates: Templates, name: str) -> Mapping[str, Any]:
    """An edition's file as a table with nothing wrong in it but, perhaps, its look."""
    file = _known(templates, name)
    table = templates.table(file)
    wrong = list(faults_of(templates.file(file), table, WRITERS))
    if wrong:
        raise TemplateError(*wrong)
    return table


def _known(templates: Templates, name: str) -> str:
    """The file of an edition."""
    file = f"editions/{name}.toml"
    if file not in templates.files:
        known = ", ".join(templates.names("editions"))
        raise TemplateError(
            Problem(Place(f"templates/{file}"), f"there is no edition {name}", f"choose {known}")
        )
    return file
