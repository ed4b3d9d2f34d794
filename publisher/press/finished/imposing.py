"""Lay a PDF's pages out on sheets for a printer: folded booklets, two pages beside each other.

Each page is a Form XObject, its content never decoded. Sheets are for paper: they carry no tags,
and their title says so.
"""

from __future__ import annotations

from typing import NamedTuple

from pypdf import PageObject, PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    BooleanObject,
    DictionaryObject,
    FloatObject,
    IndirectObject,
    NameObject,
    PdfObject,
    RectangleObject,
)
from pypdf.xmp import XmpInformation

from publisher.errors import Place, Problem, UsageError
from publisher.press.finished.signatures import SCHEMES, Side
from publisher.press.papers import PAPERS_MM, PT_PER_MM, sheet_size_mm
from publisher.press.pdf.metadata import PRODUCER
from publisher.press.pdf.opening import (
    add_stream,
    name_resource,
    opened_pdf,
    sides,
    turn_of,
    upright_size,
    write_pdf,
)

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
    with opened_pdf(pdf) as source:
        press = _Sheets(source, *_sheet_size(source, paper))
        laid = SCHEMES[scheme](len(source.pages))
        for side in laid:
            press.lay(side, scheme == "booklet", caliper_mm * PT_PER_MM)
        _describe(source, press.sheets, scheme, laid)
        return write_pdf(press.sheets)


class _Sheets:
    """Sheets being filled, in points. Each source page is brought over once."""

    def __init__(self, source: PdfReader, width: float, height: float) -> None:
        self.source, self.sheets = source, PdfWriter()
        self.width, self.height = width, height

    def lay(self, side: Side, folded: bool, caliper: float) -> None:
        """Add one side of a sheet. Folded pages touch the fold; others stand mid-half."""
        creep = side.inside * caliper if folded else 0.0
        sheet = self.sheets.add_blank_page(self.width, self.height)
        parts, trim = ["q"], None
        for name, number, on_left in (("/L", side.left, True), ("/R", side.right, False)):
            if number is None:
                continue
            page = self.source.pages[number - 1]
            place = self._place(page, on_left, folded, creep)
            name_resource(sheet, name, _form(page, self.sheets))
            parts += [self._clip(on_left), f"{_placement(page, place)} cm {name} Do", "Q"]
            trim = trim or self._trim(place)
        sheet[NameObject("/Contents")] = add_stream(self.sheets, "\n".join([*parts, "Q"]).encode())
        if folded and trim:
            sheet.trimbox = trim

    def _clip(self, on_left: bool) -> str:
        """The operators that let a page show in its own half alone."""
        fold = self.width / 2
        left = 0.0 if on_left else fold
        return f"q {left:.3f} 0 {fold:.3f} {self.height:.3f} re W n"

    def _place(self, page: PageObject, on_left: bool, folded: bool, creep: float) -> _Place:
        scale = _scale(page, self.width, self.height)
        width, height = (scale * side for side in upright_size(page))
        fold = self.width / 2
        gap = 0.0 if folded else (fold - width) / 2
        left = fold - gap - width + creep if on_left else fold + gap - creep
        return _Place(left, (self.height - height) / 2, width, height)

    def _trim(self, place: _Place) -> RectangleObject:
        """The open spread as it will be once trimmed: as wide either side of the fold."""
        fold, top = self.width / 2, place.bottom + place.height
        return RectangleObject((fold - place.width, place.bottom, fold + place.width, top))


class _Place(NamedTuple):
    """The place of a page on its sheet."""

    left: float
    bottom: float
    width: float
    height: float


def _form(page: PageObject, sheets: PdfWriter) -> IndirectObject:
    """A page's trimmed part as a form of the sheets."""
    contents = page.get_contents()
    entries = DictionaryObject(
        {
            NameObject("/Type"): NameObject("/XObject"),
            NameObject("/Subtype"): NameObject("/Form"),
            NameObject("/BBox"): ArrayObject(map(FloatObject, sides(page.trimbox))),
        }
    )
    for key in ("/Resources", "/Group"):
        if key in page:
            entries[NameObject(key)] = page[key].clone(sheets)
    return add_stream(sheets, contents.get_data() if contents is not None else b"", entries)


def _placement(page: PageObject, place: _Place) -> str:
    """The matrix that lays a page's trimmed part in its place, upright."""
    left, bottom, right, top = sides(page.trimbox)
    turn = turn_of(page)
    scale = place.width / (top - bottom if turn in (90, 270) else right - left)
    across, up, x, y = {
        0: ((1, 0), (0, 1), -left, -bottom),
        90: ((0, -1), (1, 0), -bottom, right),
        180: ((-1, 0), (0, -1), right, top),
        270: ((0, 1), (-1, 0), top, -left),
    }[turn]
    matrix = [scale * share for share in (*across, *up)]
    corner = (place.left + scale * x, place.bottom + scale * y)
    return " ".join(f"{value:.6f}" for value in (*matrix, *corner))


def sheet_scale(pdf: bytes, paper: str | None = None) -> float:
    """Return how large the pages are on their sheets: 1 is full size, and the most. Of pages of
    several sizes it is the smallest."""
    with opened_pdf(pdf) as source:
        width, height = _sheet_size(source, paper)
        return min(_scale(page, width, height) for page in source.pages)


def _scale(page: PageObject, sheet_width: float, sheet_height: float) -> float:
    width, height = upright_size(page)
    return min(sheet_width / 2 / width, sheet_height / height, 1.0)


def _sheet_size(source: PdfReader, paper: str | None) -> tuple[float, float]:
    """Width and height in points of a sheet, which lies on its side."""
    height_mm, width_mm = sheet_size_mm(paper or _paper_of(source.pages[0]))
    return width_mm * PT_PER_MM, height_mm * PT_PER_MM


def _paper_of(page: PageObject) -> str:
    """The paper that a page is nearest to in shape, or that two such pages fill."""
    narrow, long = sorted(upright_size(page))
    shapes = {
        shape: name
        for name, (width, height) in PAPERS_MM.items()
        for shape in (width / height, height / 2 / width)
    }
    return shapes[min(shapes, key=lambda shape: abs(shape - narrow / long))]


def _describe(source: PdfReader, sheets: PdfWriter, scheme: str, laid: tuple[Side, ...]) -> None:
    """Say in title, labels and printing hints that these are sheets for paper."""
    told = source.metadata or DictionaryObject()
    title = f"{told.get('/Title', '')} – {_WHAT_FOR[scheme]}".removeprefix(" – ")
    kept = {key: told[key] for key in ("/Author", "/CreationDate", "/ModDate") if key in told}
    sheets.metadata = {**kept, "/Title": title, "/Producer": PRODUCER}
    described = XmpInformation.create()
    described.dc_title = {"x-default": title}
    sheets.xmp_metadata = described
    if "/Lang" in source.root_object:
        sheets.root_object[NameObject("/Lang")] = source.root_object["/Lang"].clone(sheets)
    hints: dict[NameObject, PdfObject] = {
        NameObject("/DisplayDocTitle"): BooleanObject(True),
        NameObject("/PrintScaling"): NameObject("/None"),
    }
    if scheme == "booklet":
        hints[NameObject("/Duplex")] = NameObject("/DuplexFlipShortEdge")
    sheets.root_object[NameObject("/ViewerPreferences")] = DictionaryObject(hints)
    for index, side in enumerate(laid):
        sheets.set_page_label(index, index, prefix=side.label)
