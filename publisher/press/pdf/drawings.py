"""Bring a page that was drawn by other means into a file, as a form."""

from __future__ import annotations

import io
from typing import Any

from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject, IndirectObject, StreamObject

from publisher.press.pdf.file import PdfFile
from publisher.press.pdf.opening import written

_ENCODED = frozenset({"/Length", "/Filter", "/DecodeParms"})


def add_drawing(file: PdfFile, pdf: bytes) -> int:
    """Add the page of a one-page PDF as a Form XObject; return its number."""
    page = PdfReader(io.BytesIO(pdf)).pages[0]
    bringing = _Bringing(file)
    entries = {"/BBox": page.mediabox, "/Resources": page["/Resources"]}
    if "/Group" in page:
        entries["/Group"] = page["/Group"]
    contents = page.get_contents()
    data = contents.get_data() if contents is not None else b""
    return file.stream(f"/Type/XObject/Subtype/Form{bringing.entries(entries)}", data)


class _Bringing:
    """Objects of another file, each brought once, with all that it refers to."""

    def __init__(self, file: PdfFile) -> None:
        self._file = file
        self._numbers: dict[int, int] = {}

    def entries(self, table: Any, without: frozenset[str] = frozenset()) -> str:
        return "".join(
            f"{key} {self._written(value)}" for key, value in table.items() if key not in without
        )

    def _written(self, held: Any) -> str:
        if isinstance(held, IndirectObject):
            return f"{self._number(held)} 0 R"
        if isinstance(held, DictionaryObject):
            return f"<<{self.entries(held)}>>"
        if isinstance(held, ArrayObject):
            return f"[{' '.join(map(self._written, held))}]"
        return written(held).decode("latin-1")

    def _number(self, reference: IndirectObject) -> int:
        if reference.idnum not in self._numbers:
            held = reference.get_object()
            if isinstance(held, StreamObject):
                entries = self.entries(held, _ENCODED)
                self._numbers[reference.idnum] = self._file.stream(entries, held.get_data())
            else:
                number = self._numbers[reference.idnum] = self._file.number()
                self._file.add(self._written(held), number)
        return self._numbers[reference.idnum]
