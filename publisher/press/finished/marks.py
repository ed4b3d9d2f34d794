"""Give pages bleed, crop marks and the boxes a print shop works by; their tags and links stay."""

from __future__ import annotations

from pypdf import PageObject, PdfWriter
from pypdf.generic import RectangleObject

from publisher.errors import Place, Problem, UsageError
from publisher.press.papers import PT_PER_MM
from publisher.press.pdf.opening import Sides, add_stream, opened_pdf, put_around, sides, write_pdf

_MARK_MM = 5.0
_LINE_PT = 0.25


def mark_pages(pdf: bytes, *, bleed_mm: float = 3.0, slug_mm: float = 10.0) -> bytes:
    """The same pages on larger paper, crop marks at their corners.

    Trim is the page as it was; Bleed reaches `bleed_mm` beyond it; Media (and so Crop, which
    defaults to it) `slug_mm`, counted from the trim too. Marks stand between the two, outside the
    bleed. UsageError unless 0 <= bleed < slug; SourceError if the PDF can't be read.
    """
    if not 0 <= bleed_mm < slug_mm:
        what = f"a bleed of {bleed_mm:g} mm and a slug of {slug_mm:g} mm"
        raise UsageError(Problem(Place("marks"), what, "make the slug wider than the bleed"))
    with opened_pdf(pdf) as reader:
        document = PdfWriter(clone_from=reader)
        for page in document.pages:
            _mark(document, page, bleed_mm * PT_PER_MM, slug_mm * PT_PER_MM)
        return write_pdf(document)


def _mark(document: PdfWriter, page: PageObject, bleed: float, slug: float) -> None:
    trim = sides(page.trimbox)
    page.trimbox, page.bleedbox = RectangleObject(trim), RectangleObject(_wider(trim, bleed))
    page.mediabox = RectangleObject(_wider(trim, slug))
    if "/CropBox" in page:
        del page["/CropBox"]
    left, bottom, right, top = _wider(trim, bleed)
    inside = f"q {left:.3f} {bottom:.3f} {right - left:.3f} {top - bottom:.3f} re W n\n"
    marks = f"\nQ\n{_crop_marks(trim, bleed, slug)}"
    put_around(page, *(add_stream(document, part.encode()) for part in (inside, marks)))


def _crop_marks(trim: Sides, bleed: float, slug: float) -> str:
    """Two lines at each corner, from the bleed's edge outward, as an artifact."""
    end = min(bleed + _MARK_MM * PT_PER_MM, slug)
    left, bottom, right, top = trim
    lines = []
    for x, out in ((left, -1), (right, 1)):
        for y, up in ((bottom, -1), (top, 1)):
            lines.append(f"{x + out * bleed:.3f} {y:.3f} m {x + out * end:.3f} {y:.3f} l")
            lines.append(f"{x:.3f} {y + up * bleed:.3f} m {x:.3f} {y + up * end:.3f} l")
    drawn = "\n".join(lines)
    return f"/Artifact BMC\nq 0 G {_LINE_PT} w\n{drawn}\nS Q\nEMC"


def _wider(box: Sides, beyond: float) -> Sides:
    left, bottom, right, top = box
    return left - beyond, bottom - beyond, right + beyond, top + beyond
