"""Lay a PDF's pages out on sheets for a printer: folded booklets, two pages beside each other.

Each page is a Form XObject, its content never decoded. Sheets are for paper: they carry no tags,
and their title says so.
"""

from __future__ import annotations

from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name, Rectangle, String

from publisher.errors import Place, Problem, UsageError
from publisher.press.opening import open_pdf, write_pdf
from publisher.press.papers import PAPERS_MM, PT_PER_MM, sheet_size_mm
from publisher.press.signatures import SCHEMES, Side

_WHAT_FOR = {
    "booklet": "booklet sheets, for paper: print both sides, flip on the short edge, fold",
    "two-up": "two pages a sheet, for paper",
}


def impose(pdf: bytes, scheme: str, paper: str | None = None, *, caliper_mm: float = 0.1) -> bytes:
    """A PDF's pages → sheets of a paper on its side, two pages each.

    scheme      "booklet": saddle-stitched; "two-up": in reading order
    paper       "a4", "letter", "a3" or "tabloid"; of the first two the one that the first page is
                nearest to, if none is given. Pages too large for half of it are scaled down to fit
    caliper_mm  the paper's thickness: in a booklet each sheet further in is pushed this much
                towards the fold, since folding pushes it out (creep)

    UsageError for another scheme or paper; SourceError if the PDF can't be read.
    """
    if scheme not in SCHEMES:
        what = f"there is no scheme “{scheme}”"
        raise UsageError(Problem(Place("scheme"), what, f"use one of {', '.join(SCHEMES)}"))
    with open_pdf(pdf) as source, pikepdf.new() as sheets:
        press = _Sheets(source, sheets, *_sheet_size(source, paper))
        sides = SCHEMES[scheme](len(source.pages))
        for side in sides:
            press.lay(side, scheme == "booklet", caliper_mm * PT_PER_MM)
        _describe(source, sheets, scheme, sides)
        return write_pdf(sheets)


class _Sheets:
    """Sheets being filled, in points. Each source page is brought over once."""

    def __init__(self, source: Any, sheets: Any, width: float, height: float) -> None:
        self.source, self.sheets = source, sheets
        self.width, self.height = width, height

    def lay(self, side: Side, folded: bool, caliper: float) -> None:
        """Add one side of a sheet. Folded pages touch the fold; others stand mid-half."""
        creep = side.inside * caliper if folded else 0.0
        page = self.sheets.add_blank_page(page_size=(self.width, self.height))
        parts, corners = [b"q"], []
        for name, number, on_left in (("L", side.left, True), ("R", side.right, False)):
            if number is None:
                continue
            source = self.source.pages[number - 1]
            form = self.sheets.copy_foreign(source.as_form_xobject())
            place = self._place(source, on_left, folded, creep)
            page.add_resource(form, Name.XObject, Name(f"/{name}"), replace_existing=True)
            parts += [_clip(self._half(on_left))]
            parts += [page.calc_form_xobject_placement(form, Name(f"/{name}"), place), b"Q"]
            corners.append(place)
        page.Contents = self.sheets.make_stream(b"\n".join([*parts, b"Q"]))
        if folded and corners:
            page.TrimBox = self._trim(corners[0])

    def _half(self, on_left: bool) -> Rectangle:
        fold = self.width / 2
        return Rectangle(0 if on_left else fold, 0, fold if on_left else self.width, self.height)

    def _place(self, page: Any, on_left: bool, folded: bool, creep: float) -> Rectangle:
        width, height = upright_size(page)
        scale = _scale(page, self.width, self.height)
        width, height = width * scale, height * scale
        fold = self.width / 2
        gap = 0.0 if folded else (fold - width) / 2
        left = fold - gap - width + creep if on_left else fold + gap - creep
        bottom = (self.height - height) / 2
        return Rectangle(left, bottom, left + width, bottom + height)

    def _trim(self, place: Rectangle) -> Array:
        """The open spread as it will be once trimmed: as wide either side of the fold."""
        fold, width = self.width / 2, place.width
        return Array([fold - width, place.lly, fold + width, place.ury])


def sheet_scale(pdf: bytes, paper: str | None = None) -> float:
    """How large the pages are on their sheets: 1 is full size, and the most. Of pages of several
    sizes it is the smallest."""
    with open_pdf(pdf) as source:
        width, height = _sheet_size(source, paper)
        return min(_scale(page, width, height) for page in source.pages)


def _scale(page: Any, sheet_width: float, sheet_height: float) -> float:
    width, height = upright_size(page)
    return min(sheet_width / 2 / width, sheet_height / height, 1.0)


def _sheet_size(source: Any, paper: str | None) -> tuple[float, float]:
    """Width and height in points of a sheet, which lies on its side."""
    height_mm, width_mm = sheet_size_mm(paper or _paper_of(source.pages[0]))
    return width_mm * PT_PER_MM, height_mm * PT_PER_MM


def _paper_of(page: Any) -> str:
    """The paper that a page is nearest to in shape, or that two such pages fill."""
    narrow, long = sorted(upright_size(page))
    shapes = {
        shape: name
        for name, (width, height) in PAPERS_MM.items()
        for shape in (width / height, height / 2 / width)
    }
    return shapes[min(shapes, key=lambda shape: abs(shape - narrow / long))]


def upright_size(page: Any) -> tuple[float, float]:
    """Width and height in points of a page's trimmed part, as it is seen, turned or not."""
    box = Rectangle(page.trimbox)
    turned = int(page.get("/Rotate", 0)) % 180 == 90
    return (box.height, box.width) if turned else (box.width, box.height)


def _clip(box: Rectangle) -> bytes:
    return f"q {box.llx:.3f} {box.lly:.3f} {box.width:.3f} {box.height:.3f} re W n".encode()


def _describe(source: Any, sheets: Any, scheme: str, sides: tuple[Side, ...]) -> None:
    """Say in title, labels and printing hints that these are sheets for paper."""
    written = str(source.docinfo.get("/Title", "")) if "/Info" in source.trailer else ""
    title = f"{written} – {_WHAT_FOR[scheme]}".removeprefix(" – ")
    sheets.docinfo["/Title"] = String(title)
    for key in ("/Author", "/CreationDate", "/ModDate"):
        if "/Info" in source.trailer and key in source.docinfo:
            sheets.docinfo[key] = String(str(source.docinfo[key]))
    with sheets.open_metadata(set_pikepdf_as_editor=False) as metadata:
        metadata["dc:title"] = title
    root = sheets.Root
    if "/Lang" in source.Root:
        root.Lang = String(str(source.Root.Lang))
    root.ViewerPreferences = Dictionary(DisplayDocTitle=True, PrintScaling=Name("/None"))
    if scheme == "booklet":
        root.ViewerPreferences.Duplex = Name.DuplexFlipShortEdge
    labels: list[Any] = []
    for index, side in enumerate(sides):
        labels += [index, Dictionary(P=String(side.label))]
    root.PageLabels = Dictionary(Nums=Array(labels))
