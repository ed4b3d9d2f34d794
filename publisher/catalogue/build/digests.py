"""Reduce everything that a book can depend on to digests, each taken once a run."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import field, replace
from functools import cache
from hashlib import blake2b
from pathlib import Path
from typing import TYPE_CHECKING

from publisher.catalogue.build.libraries import ALWAYS, KNOT_DRAWING, SOMETIMES, versions
from publisher.errors import Place, PublisherError
from publisher.frozen import frozen
from publisher.templates import TemplateFile

if TYPE_CHECKING:
    from publisher.model.book import Book
    from publisher.model.pattern import Pattern

MISSING = "missing"
PROGRAM, FONTS, DATE = "program", "fonts", "date"
PAPER, STUDENTS = "paper", "students"
LIBRARY = "library/"
"""Before the name of a library, as an input."""

_OWN = (".py", ".toml", ".json")
_NOT_OWN = ("_templates", "__pycache__")


@frozen
class Present:
    """The present state of everything that books are made from. Inputs are named `source/…`,
    `template/…`, `knot/…`, or as below."""

    templates: Mapping[str, TemplateFile]
    own_knots: Mapping[str, str]
    epoch: str
    students: int | None = None
    taken: dict[str, str] = field(default_factory=dict)

    def digest(self, name: str, folder: Path) -> str:
        """The digest of an input; sources are found from the pattern's folder."""
        kind, _, rest = name.partition("/")
        key = str(folder / rest) if kind == "source" else name
        if key not in self.taken:
            self.taken[key] = self._take(kind, rest, folder)
        return self.taken[key]

    def _take(self, kind: str, rest: str, folder: Path) -> str:
        match kind:
            case "source":
                return digest_of_file(folder / rest)
            case "template":
                found = self.templates.get(rest)
                return digest_of(found.text.encode()) if found else MISSING
            case "knot":
                own = {Path(path).stem: text for path, text in self.own_knots.items()}
                return digest_of(own[rest].encode()) if rest in own else MISSING
            case "program":
                return program_digest()
            case "fonts":
                return fonts_digest()
            case "date":
                return self.epoch or MISSING
            case "library":
                return library_version(rest)
            case "students":
                return str(self.students or MISSING)
            case _:
                return MISSING


def digest_of(*parts: bytes) -> str:
    """32 hexadecimal digits for these bytes in this order."""
    hashed = blake2b(digest_size=16)
    for part in parts:
        hashed.update(len(part).to_bytes(8, "little"))
        hashed.update(part)
    return hashed.hexdigest()


def with_digest(body: bytes, *about: bytes) -> bytes:
    """Return what is kept of a body: a line with its digest, in front. `about`: what it is kept
    for, of which the digest is, too."""
    return digest_of(*about, body).encode() + b"\n" + body


def without_digest(kept: bytes, *about: bytes) -> bytes | None:
    """The body again; None where any of it is not as it was kept."""
    digest, _, body = kept.partition(b"\n")
    return body if digest == digest_of(*about, body).encode() else None


def digest_of_file(path: Path) -> str:
    """The digest of a file's bytes, or MISSING; a pipe, which might keep us waiting, is none."""
    try:
        return digest_of(path.read_bytes()) if path.is_file() else MISSING
    except OSError:
        return MISSING


def digest_of_book(book: Book) -> str:
    """The digest of everything that the press is given."""
    pages = (text.encode() for page in book.pages for text in (page.frame, page.body))
    sizes = [(page.width_mm, page.height_mm, page.label) for page in book.pages]
    return digest_of(*pages, repr((sizes, replace(book, pages=()))).encode())


def digest_of_pattern(pattern: Pattern) -> str:
    """The digest of what a pattern says, wherever it was read from and on whichever lines."""
    pieces = tuple(replace(piece, place=Place("")) for piece in pattern.pieces)
    return digest_of(repr(replace(pattern, path="", files=(), pieces=pieces)).encode())


@cache
def program_digest() -> str:
    """The digest of our own files and of the versions of the libraries that make every book."""
    return digest_of(_own_digest().encode(), *map(_version, ALWAYS))


@cache
def _own_digest() -> str:
    """The digest of our own files but for the templates, which are inputs by themselves."""
    package = Path(__file__).parents[2]
    parts: list[bytes] = []
    for path in _own_files(package):
        parts += [path.removeprefix(str(package)).encode(), _content(path)]
    return digest_of(*parts)


def _version(library: str) -> bytes:
    return library_version(library).encode()


def _content(path: str) -> bytes:
    """A file's bytes, read in one go: there are hundreds."""
    with open(path, "rb", buffering=0) as file:  # noqa: PTH123
        return file.read()


def _own_files(package: Path) -> list[str]:
    found: list[str] = []
    for folder, folders, names in os.walk(package):
        folders[:] = [name for name in folders if name not in _NOT_OWN]
        found += (os.path.join(folder, name) for name in names if name.endswith(_OWN))  # noqa: PTH118
    return sorted(found)


@cache
def fonts_digest() -> str:
    """The digest of every face's file; a face that is gone counts as such."""
    from publisher.fonts import FACES, font_file

    parts: list[bytes] = []
    for face in FACES:
        try:
            parts.append(font_file(face).read_bytes())
        except (PublisherError, OSError):
            parts.append(MISSING.encode())
    return digest_of(*parts)


def library_version(name: str) -> str:
    """A library's name and version as it is installed, or MISSING."""
    return versions().get(name, MISSING)


def planning_digest() -> str:
    """The digest of all that plans are made by, whatever is planned."""
    return digest_of(program_digest().encode(), *map(_version, SOMETIMES))


def drawing_digest() -> str:
    """The digest of all that drawings are made by, whatever is drawn."""
    return digest_of(planning_digest().encode(), fonts_digest().encode())


def knots_digest() -> str:
    """The digest of all that knots are drawn by: the same where the program is packed and where it
    is installed, whatever other libraries there are."""
    return digest_of(_own_digest().encode(), fonts_digest().encode(), *map(_version, KNOT_DRAWING))
