"""Check what is asked for, in one place for the commands and for Python: UsageError says what of a
call can't be."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from publisher.errors import Place, Problem, UsageError
from publisher.templates import Templates

PAPERS = ("a4", "letter")
TEMPLATES = Path("templates")
"""The folder of a writer's templates that need not be there."""


def several(name: str, values: Iterable[str]) -> tuple[str, ...]:
    """The names in an argument that takes some, each once: a text by itself is none of them."""
    if isinstance(values, str | bytes | Path):
        raise wrong_call(name, f"{values!r} is one name, not some", f"write {name}=[{values!r}]")
    return tuple(dict.fromkeys(values))


def known_editions(names: Iterable[str], templates: Templates) -> tuple[str, ...]:
    """The editions that are named, each once."""
    found, known = several("editions", names), list(templates.names("editions"))
    hint = f"choose {', '.join(known)}"
    if not found:
        raise wrong_call("editions", "no edition is named", hint)
    strange = [name for name in found if name not in known]
    if strange:
        problems = (Problem(Place(str(n)), "there is no such edition", hint) for n in strange)
        raise UsageError(*problems)
    return found


def known_papers(names: Iterable[str]) -> tuple[str, ...]:
    """The papers that are named, each once."""
    found, hint = several("papers", names), f"choose {' or '.join(PAPERS)}"
    if not found:
        raise wrong_call("papers", "no paper is named", hint)
    for name in found:
        if name not in PAPERS:
            raise wrong_call("papers", f"there is no paper {name!r} for books", hint)
    return found


def check_students(students: int | None, are_counted: bool) -> None:
    """Refuse a number that no class has, or one where no edition has a kit for them."""
    if students is None:
        return
    check_number("students", students)
    if not are_counted:
        hint = "name one that has, such as handout"
        raise wrong_call("students", "no edition here has a kit for them", hint)


def check_number(name: str, number: int, most: int | None = None) -> None:
    """Refuse what is no whole number from 1 on."""
    if type(number) is not int or not 1 <= number <= (most or number):
        shown = f"{number:,}" if type(number) in (int, float) else repr(number)
        hint = "give a whole number, 1 or more" if most is None else f"choose 1 to {most:,}"
        raise wrong_call(name, f"{shown} is no number of {name}", hint)


def check_templates(folder: Path) -> None:
    """Refuse a folder of templates that is named and not there."""
    if not folder.is_dir():
        hint = "name one, or leave this option out and have the installed templates"
        raise wrong_call(str(folder), "there is no such folder", hint)


def wrong_call(place: str, message: str, hint: str) -> UsageError:
    """Return what is raised where a call asks for what can't be."""
    return UsageError(Problem(Place(place), message, hint))
