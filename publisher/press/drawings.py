"""Put pages drawn by other means into a PDF, where it has room for them."""

from __future__ import annotations

import io
from collections.abc import Mapping

import pikepdf

from publisher.press.opening import write_pdf


def put_drawings(pdf: bytes, drawings: Mapping[str, bytes]) -> bytes:
    """`drawings`: one-page PDFs, by the name of the empty form that each is to fill."""
    with pikepdf.open(io.BytesIO(pdf)) as document:
        rooms = {
            str(held.Name)[1:]: held
            for held in document.objects
            if isinstance(held, pikepdf.Stream) and "/Name" in held
        }
        for name, drawing in drawings.items():
            with pikepdf.open(io.BytesIO(drawing)) as other:
                form = document.copy_foreign(other.pages[0].as_form_xobject())
                room = rooms[name]
                room.write(form.read_bytes())
                room.BBox, room.Resources = form.BBox, form.Resources
                if "/Group" in form:
                    room.Group = form.Group
                del room.Name
        return write_pdf(document)
