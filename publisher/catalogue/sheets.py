"""Put a finished PDF's pages on sheets for a printer, in a file of their own."""

from __future__ import annotations

from pathlib import Path

from publisher.catalogue.calls import wrong_call
from publisher.catalogue.finished import put_finished, read_finished, told_of
from publisher.frozen import frozen

LEAST_TYPE_PT = 6.5
"""Smaller type is hard to read: its x is less than 1.2 mm high (EU regulation 1169/2011)."""

_AS_GOOD_AS_FULL = 0.999
"""An A4 page in points is a hair more than half of A3."""


@frozen
class Sheets:
    """A file of sheets. `scale`: how large pages are on them; `smallest_pt`: their smallest type
    there, None where they have none."""

    path: Path
    scale: float
    smallest_pt: float | None

    @property
    def full_size(self) -> bool:
        """Whether a length measured on these pages is right."""
        return self.scale > _AS_GOOD_AS_FULL

    @property
    def hard_to_read(self) -> bool:
        """Whether scaling has made some type too small."""
        small = self.smallest_pt is not None and self.smallest_pt < LEAST_TYPE_PT
        return small and not self.full_size


def impose_file(
    file: Path, scheme: str, paper: str | None = None, into: Path | None = None
) -> Sheets:
    """Put the sheets in `FILE-SCHEME.pdf` beside the file, if no other is given.

    `scheme`: as for `impose`, or "crop-marks": each page at full size on larger paper, with the
    marks and boxes that a print shop cuts by. `paper`: that of the pages, if it is not given.
    UsageError where the call is wrong, SourceError where the PDF is, OutputError where the sheets
    can't be written.
    """
    from publisher.press import impose, mark_pages, sheet_scale, smallest_type_pt

    if scheme == "crop-marks" and paper:
        hint = "leave it out: the paper is as much larger than the pages as the marks need"
        raise wrong_call("--paper", "pages with crop marks stay as large as they are", hint)

    pdf = read_finished(file)
    sheets = into or file.with_name(f"{file.stem}-{scheme}.pdf")
    if sheets.exists() and sheets.samefile(file):
        raise wrong_call(str(sheets), "these are the pages themselves", "choose another --into")
    with told_of(file):
        if scheme == "crop-marks":
            return _put(sheets, mark_pages(pdf))
        made = impose(pdf, scheme, paper)
        scale = sheet_scale(pdf, paper)
        smallest_pt = smallest_type_pt(pdf)
    return _put(sheets, made, scale, smallest_pt and smallest_pt * scale)


def _put(path: Path, pdf: bytes, scale: float = 1.0, smallest_pt: float | None = None) -> Sheets:
    put_finished(path, pdf)
    return Sheets(path, scale, smallest_pt)
