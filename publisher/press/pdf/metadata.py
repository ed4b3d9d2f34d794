"""Turn what a book says of itself into PDF document information and XMP, which must agree."""

from __future__ import annotations

import datetime
from html import escape

from publisher.model.book import Book

PRODUCER = "Publisher"
_PACKET = """<?xpacket begin="\ufeff" id="W5M0MpCehiHzreSzNTczkc9d"?>
<x:xmpmeta xmlns:x="adobe:ns:meta/">
<rdf:RDF xmlns:rdf="http://www.w3.org/1999/02/22-rdf-syntax-ns#">
<rdf:Description rdf:about="" xmlns:dc="http://purl.org/dc/elements/1.1/"
 xmlns:pdf="http://ns.adobe.com/pdf/1.3/" xmlns:xmp="http://ns.adobe.com/xap/1.0/"
 xmlns:pdfuaid="http://www.aiim.org/pdfua/ns/id/">
{properties}
</rdf:Description>
</rdf:RDF>
</x:xmpmeta>
<?xpacket end="w"?>
"""


def information(book: Book) -> dict[str, str]:
    """The document information dictionary, as ISO 32000-1, 14.3.3 names its entries."""
    date = _utc(book.date).strftime("D:%Y%m%d%H%M%SZ")
    entries = {
        "/Title": book.title,
        "/Author": book.author,
        "/Subject": book.subject,
        "/Keywords": ", ".join(book.keywords),
        "/Creator": PRODUCER,
        "/Producer": PRODUCER,
        "/CreationDate": date,
        "/ModDate": date,
    }
    return {key: value for key, value in entries.items() if value}


def xmp(book: Book) -> str:
    """The XMP packet, with the claim to PDF/UA-1."""
    date = _utc(book.date).strftime("%Y-%m-%dT%H:%M:%SZ")
    properties = [
        "<pdfuaid:part>1</pdfuaid:part>",
        _languages("dc:title", book.title),
        _listed("dc:creator", "Seq", [book.author]),
        _languages("dc:description", book.subject),
        _listed("dc:subject", "Bag", list(book.keywords)),
        _listed("dc:language", "Bag", [book.language]),
        _simple("pdf:Keywords", ", ".join(book.keywords)),
        _simple("pdf:Producer", PRODUCER),
        _simple("xmp:CreatorTool", PRODUCER),
        _simple("xmp:CreateDate", date),
        _simple("xmp:ModifyDate", date),
    ]
    return _PACKET.format(properties="\n".join(entry for entry in properties if entry))


def _utc(date: datetime.datetime) -> datetime.datetime:
    """A date without a time zone is taken as UTC, so that no machine's zone comes in."""
    if date.tzinfo is None:
        return date
    return date.astimezone(datetime.UTC)


def _simple(name: str, value: str) -> str:
    return f"<{name}>{escape(value)}</{name}>" if value else ""


def _languages(name: str, value: str) -> str:
    if not value:
        return ""
    item = f'<rdf:li xml:lang="x-default">{escape(value)}</rdf:li>'
    return f"<{name}><rdf:Alt>{item}</rdf:Alt></{name}>"


def _listed(name: str, kind: str, values: list[str]) -> str:
    items = "".join(f"<rdf:li>{escape(value)}</rdf:li>" for value in values if value)
    return f"<{name}><rdf:{kind}>{items}</rdf:{kind}></{name}>" if items else ""
