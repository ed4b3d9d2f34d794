"""Open a finished PDF to work on, and write it again, the same bytes for the same work."""

from __future__ import annotations

import io
import logging
from collections.abc import Iterator
from contextlib import contextmanager

from pypdf import PageObject, PdfReader, PdfWriter
from pypdf.errors import DependencyError, FileNotDecryptedError, PyPdfError
from pypdf.generic import (
    ArrayObject,
    DecodedStreamObject,
    DictionaryObject,
    IndirectObject,
    NameObject,
    PdfObject,
    RectangleObject,
    StreamObject,
)

from publisher.errors import Place, Problem, PublisherError, SourceError
from publisher.press.pdf.file import PdfFile

logging.getLogger("pypdf").addHandler(logging.NullHandler())
"""What it mends in a damaged file is not for a person's screen."""

_LONGEST_REASON = 100

Sides = tuple[float, float, float, float]
"""Left, bottom, right and top, in points."""


@contextmanager
def opened_pdf(pdf: bytes) -> Iterator[PdfReader]:
    """A PDF as pypdf reads it.

    SourceError if it is damaged, locked or without a page, also where that shows only as it is
    worked on: of what is damaged pypdf raises whatever it stumbles over.
    """
    try:
        reader = PdfReader(io.BytesIO(pdf))
        if reader.is_encrypted and not reader.decrypt(""):
            raise _locked()
        if not reader.pages:
            raise _unusable("the PDF has no page", "build it anew")
        yield reader
    except PublisherError:
        raise
    except (DependencyError, FileNotDecryptedError):
        raise _locked() from None
    except MemoryError:
        raise
    except Exception as error:
        reason = " ".join(str(error).split()) if isinstance(error, PyPdfError) else "it is damaged"
        what = f"this is not a PDF that can be read ({reason[:_LONGEST_REASON]})"
        raise _unusable(what, "build it anew") from error


def page_sizes(pdf: bytes) -> list[tuple[float, float]]:
    """Read the width and height of every page, in points, as pages are shown."""
    with opened_pdf(pdf) as reader:
        return [upright_size(page) for page in reader.pages]


def upright_size(page: PageObject) -> tuple[float, float]:
    """Width and height in points of a page's trimmed part, as it is seen, turned or not."""
    left, bottom, right, top = sides(page.trimbox)
    width, height = right - left, top - bottom
    return (height, width) if turn_of(page) in (90, 270) else (width, height)


def turn_of(page: PageObject) -> int:
    """Return how far a page is turned clockwise: 0, 90, 180 or 270 degrees."""
    return round(page.rotation / 90) * 90 % 360


def write_pdf(document: PdfWriter) -> bytes:
    """A document of pypdf's as a file: compact, with an ID made from its content."""
    return packed(document).write(*roots(document))


def packed(document: PdfWriter) -> PdfFile:
    """A document's objects, under their numbers, in a file that can take more."""
    file = PdfFile()
    for _ in document._objects:
        file.number()
    for number, held in enumerate(document._objects, 1):
        if held is None:
            file.add("null", number)
        elif not isinstance(held, StreamObject):
            file.add(written(held).decode("latin-1"), number)
        elif "/Filter" in held or held.get("/Type") == "/Metadata":
            file.whole(written(held), number)
        else:
            entries = written(DictionaryObject(held)).decode("latin-1")
            file.stream(entries[2:-2], held.get_data(), number)
    return file


def roots(document: PdfWriter) -> tuple[int, int]:
    """The numbers of a document's catalogue and of its information, which it is given if it has
    none."""
    if document._info is None:
        document.metadata = {}
    catalogue, information = document.root_object.indirect_reference, document._info_obj
    assert catalogue is not None and information is not None
    assert information.indirect_reference is not None
    return catalogue.idnum, information.indirect_reference.idnum


def written(held: PdfObject) -> bytes:
    """An object as it stands in a file."""
    output = io.BytesIO()
    held.write_to_stream(output)
    return output.getvalue()


def sides(box: RectangleObject) -> Sides:
    """The sides of a box, whichever corners it is given by."""
    (left, right), (bottom, top) = sorted((box.left, box.right)), sorted((box.bottom, box.top))
    return float(left), float(bottom), float(right), float(top)


def add_stream(
    document: PdfWriter, data: bytes, entries: DictionaryObject | None = None
) -> IndirectObject:
    """Add a stream to a document."""
    stream = DecodedStreamObject()
    stream.set_data(data)
    stream.update(entries or {})
    return document._add_object(stream)


def put_around(page: PageObject, before: IndirectObject, after: IndirectObject) -> None:
    """Let a page's content begin and end with these streams."""
    held = page.get("/Contents")
    found = held.get_object() if held is not None else None
    inside = found if isinstance(found, ArrayObject) else [] if found is None else [held]
    page[NameObject("/Contents")] = ArrayObject([before, *inside, after])


def name_resource(page: PageObject, name: str, form: IndirectObject) -> None:
    """Let a page's content call a form by a name; resources that pages share stay as they are."""
    resources = _table(page.get("/Resources"))
    forms = _table(resources.get("/XObject"))
    forms[NameObject(name)] = form
    resources[NameObject("/XObject")] = forms
    page[NameObject("/Resources")] = resources


def _table(held: PdfObject | None) -> DictionaryObject:
    found = held.get_object() if held is not None else None
    return DictionaryObject(found) if isinstance(found, DictionaryObject) else DictionaryObject()


def _locked() -> SourceError:
    return _unusable("the PDF is locked by a password", "unlock it first")


def _unusable(what: str, remedy: str) -> SourceError:
    return SourceError(Problem(Place("PDF"), what, remedy))
