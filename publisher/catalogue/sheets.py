"""Put a finished PDF's pages on sheets for a printer, in a file of their own."""

from __future__ import annotations

from pathlib import Path

from publisher.catalogue.finished import put_finished, read_finished, told_of, wrong_call


def impose_file(
    file: Path, scheme: str, paper: str | None = None, into: Path | None = None
) -> Path:
    """The sheets' file: `FILE-booklet.pdf` or `FILE-two-up.pdf` beside it, if it is not given.

    `paper`: that of the pages, if it is not given. UsageError where the call is wrong,
    SourceError where the PDF is, OutputError where the sheets can't be written.
    """
    from publisher.press import impose

    pdf = read_finished(file)
    sheets = into or file.with_name(f"{file.stem}-{scheme}.pdf")
    if sheets.exists() and sheets.samefile(file):
        raise wrong_call(str(sheets), "these are the pages themselves", "choose another --into")
    with told_of(file):
        made = impose(pdf, scheme, paper)
    put_finished(sheets, made)
    return sheets
