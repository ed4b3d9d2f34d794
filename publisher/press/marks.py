"""Give pages bleed, crop marks and the boxes a print shop works by; their tags and links stay."""

from __future__ import annotations

from typing import Any

from pikepdf import Array, Rectangle

from publisher.errors import Place, Problem, UsageError
from publisher.press.opening import open_pdf, write_pdf
from publisher.press.papers import PT_PER_MM

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
    with open_pdf(pdf) as document:
        for page in document.pages:
            _mark(document, page, bleed_mm * PT_PER_MM, slug_mm * PT_PER_MM)
        return write_pdf(document)


def _mark(document: Any, page: Any, bleed: float, slug: float) -> None:
    trim = Rectangle(page.trimbox)
    page.TrimBox = _box(trim, 0)
    page.BleedBox = _box(trim, bleed)
    page.MediaBox = _box(trim, slug)
    if "/CropBox" in page:
        del page.CropBox
    inside = " ".join(f"{value:.3f}" for value in _corner_and_size(trim, bleed))
    page.contents_add(document.make_stream(f"q {inside} re W n\n".encode()), prepend=True)
    page.contents_add(document.make_stream(b"\nQ\n" + _crop_marks(trim, bleed, slug)))


def _crop_marks(trim: Rectangle, bleed: float, slug: float) -> bytes:
    """Two lines at each corner, from the bleed's edge outward, as an artifact."""
    end = min(bleed + _MARK_MM * PT_PER_MM, slug)
    lines = []
    for x, out in ((trim.llx, -1), (trim.urx, 1)):
        for y, up in ((trim.lly, -1), (trim.ury, 1)):
            lines.append(f"{x + out * bleed:.3f} {y:.3f} m {x + out * end:.3f} {y:.3f} l")
            lines.append(f"{x:.3f} {y + up * bleed:.3f} m {x:.3f} {y + up * end:.3f} l")
    drawn = "\n".join(lines)
    return f"/Artifact BMC\nq 0 G {_LINE_PT} w\n{drawn}\nS Q\nEMC".encode()


def _box(trim: Rectangle, beyond: float) -> Array:
    x, y, width, height = _corner_and_size(trim, beyond)
    return Array([x, y, x + width, y + height])


def _corner_and_size(trim: Rectangle, beyond: float) -> tuple[float, float, float, float]:
    return (
        float(trim.llx) - beyond,
        float(trim.lly) - beyond,
        float(trim.width) + 2 * beyond,
        float(trim.height) + 2 * beyond,
    )
