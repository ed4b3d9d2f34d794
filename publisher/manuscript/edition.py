"""Read an edition: which sections a book has, and what it changes in the look."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, get_args

from publisher.errors import Place, Problem, TemplateError
from publisher.frozen import frozen
from publisher.manuscript.options import OPTIONS, EditionTable, ErrataTable, Form, Hand
from publisher.templates import Templates

if TYPE_CHECKING:
    from publisher.model.look import Look
    from publisher.tables.findings import Findings


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
        """An option of the edition's file, or what is usual."""
        return self.options[key]


def house_look(templates: Templates, paper: str) -> Look:
    """The look of look.toml alone. TemplateError names every key that is wrong."""
    from publisher.manuscript.look import read_look
    from publisher.tables.findings import Findings

    findings = Findings()
    look = read_look(templates, paper, findings)
    if look is None:
        raise templates.error(findings)
    return look


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
    edition = _read(templates, _ERRATA, "errata", paper, {})
    return replace(edition, form=form, hand=hand)


_ERRATA = "errata.toml"


def _read(
    templates: Templates, file: str, name: str, paper: str, more: Mapping[str, Any]
) -> Edition:
    from publisher.manuscript.look import read_look
    from publisher.tables.findings import Findings

    findings = Findings()
    table = _table(templates, file, findings)
    changes = table.look if table else {}
    look = read_look(templates, paper, findings, templates.file(file), changes)
    if table is None or look is None or findings.found:
        raise templates.error(findings)
    options = {key: getattr(table, key) for key in OPTIONS} | dict(more)
    sections = tuple(table.sections)
    return Edition(name, table.title, sections, look, options, table.hand, table.form)


def _table(templates: Templates, name: str, findings: Findings) -> EditionTable | None:
    """An edition's file as a table; what is wrong with it is found."""
    from publisher.manuscript.look import LookTable
    from publisher.tables.reader import read_table
    from publisher.tables.schema import hints

    file, data = templates.file(name), templates.table(name)
    for key in [key for key in data if key in hints(LookTable)]:
        below = (
            f"write [look.{key}]" if isinstance(data.pop(key), Mapping) else "put it below [look]"
        )
        findings.add(file.path, (key,), f"`{key}` belongs to the look", below)
    kind = ErrataTable if name == _ERRATA else EditionTable
    return read_table(kind, data, file.path, findings)


def _checked(templates: Templates, name: str) -> EditionTable:
    """An edition's file as a table with nothing wrong in it but, perhaps, its look."""
    from publisher.tables.findings import Findings

    findings = Findings()
    table = _table(templates, _known(templates, name), findings)
    if table is None or findings.found:
        raise templates.error(findings)
    return table


def edition_hand(templates: Templates, name: str) -> Hand:
    """The hand that an edition is for: `left` asks for a pattern `for_left_hand`, planned anew.

    As is the form, it is asked for even where there is nothing to make: a file that has a right
    one is not read as a whole.
    """
    hand: Hand = templates.table(_known(templates, name)).get("hand", "right")
    return hand if hand in get_args(Hand) else _checked(templates, name).hand


def edition_form(templates: Templates, name: str) -> Form:
    """Return what an edition is made as: pages for a PDF; text (a plain one and a web page); or a
    web page to work from at the bench."""
    form: Form = templates.table(_known(templates, name)).get("form", "pages")
    return form if form in get_args(Form) else _checked(templates, name).form


def is_released(templates: Templates, name: str) -> bool:
    """Does an edition go into releases, if no others are named?"""
    return _checked(templates, name).release


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
