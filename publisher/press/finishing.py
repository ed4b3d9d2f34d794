"""Finish cairo's PDF to PDF/UA-1: language, metadata, alternative texts, scopes, artifacts, links.

cairo writes the structure tree in drawing order, so the tags' records and the tree are walked side
by side.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name, String

from publisher.book import Book
from publisher.press.dialect import ARTIFACT
from publisher.press.metadata import information, xmp
from publisher.press.opening import write_pdf
from publisher.press.tags import TagRecord

_MARK = re.compile(rb"/NonStruct << /MCID (\d+) >> BDC")


def finish(drawn: Path, book: Book, records: list[TagRecord]) -> bytes:
    """cairo's PDF → the finished one, the same bytes for the same book."""
    with pikepdf.open(drawn) as pdf:
        root = pdf.Root
        root.Lang = String(book.language)
        root.ViewerPreferences = Dictionary(DisplayDocTitle=True)
        root.MarkInfo = Dictionary(Marked=True)
        _describe(pdf, book)
        if "/StructTreeRoot" in root:
            _finish_pages(pdf, _finish_tree(root.StructTreeRoot, records))
        else:  # not a single mark on any page
            root.StructTreeRoot = pdf.make_indirect(Dictionary(Type=Name.StructTreeRoot))
        return write_pdf(pdf)


def _describe(pdf: Any, book: Book) -> None:
    for key in list(pdf.docinfo.keys()):
        del pdf.docinfo[key]
    for key, value in information(book).items():
        pdf.docinfo[key] = String(value)
    packet = pdf.make_stream(xmp(book).encode())
    packet.Type, packet.Subtype = Name.Metadata, Name.XML
    pdf.Root.Metadata = packet


def _finish_tree(tree: Any, records: list[TagRecord]) -> list[str]:
    """Put the records' words on the elements, take artifacts out; the texts of links, in order."""
    links: list[str] = []
    rest = iter(records)
    document = tree.K[0] if isinstance(tree.K, Array) else tree.K
    _finish_element(document, rest, links)
    return links


def _finish_element(element: Any, rest: Iterator[TagRecord], links: list[str]) -> None:
    kids = element.get("/K")
    if kids is None:
        return
    kept, dropped = [], False
    for kid in kids if isinstance(kids, Array) else (kids,):
        if isinstance(kid, Dictionary) and "/S" in kid:
            record = next(rest)
            if record.role == ARTIFACT:
                dropped = True
                continue
            _finish_tag(kid, record, links)
            if record.parts:
                _finish_element(kid, rest, links)
        kept.append(kid)
    if dropped:
        element.K = Array(kept)


def _finish_tag(element: Any, record: TagRecord, links: list[str]) -> None:
    assert "/" + record.role == element.S, (element.S, record.role)
    if record.alt:
        element.Alt = String(record.alt)
    if record.scope:
        element.A = Dictionary(O=Name.Table, Scope=Name("/" + record.scope))
    if record.words is not None:
        links.append(record.words)


def _finish_pages(pdf: Any, links: list[str]) -> None:
    parents = _parent_arrays(pdf.Root.StructTreeRoot.ParentTree)
    words = iter(links)
    for page in pdf.pages:
        page.Tabs = Name.S
        for annotation in page.get("/Annots", ()):
            annotation.Contents = String(next(words))
        _finish_content(page, parents)
        for font in (page.Resources.get("/Font") or {}).values():
            if "/DescendantFonts" in font:
                font.DescendantFonts[0].CIDToGIDMap = Name.Identity


def _finish_content(page: Any, parents: dict[int, Any]) -> None:
    """Say Artifact where the drawing had to say something else."""
    content = page.Contents.read_bytes()
    marks = [int(mark) for mark in _MARK.findall(content)]
    if marks:
        page.Contents.write(_MARK.sub(b"/Artifact BMC", content))
        array = parents[int(page.StructParents)]
        for mark in marks:
            array[mark] = None


def _parent_arrays(tree: Any) -> dict[int, Any]:
    numbers = tree.Nums
    return {int(numbers[at]): numbers[at + 1] for at in range(0, len(numbers), 2)}
