"""Write a PDF file: numbered objects, packed into streams, and the table of where each stands
(ISO 32000-1, 7.3 and 7.5)."""

from __future__ import annotations

from array import array
from collections.abc import Mapping
from hashlib import blake2b

from publisher.squeezing import deflated

_HEADER = b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"
_PACKED = 200
"""Objects in a stream: more make it smaller, and reading a single one slower."""

_IN_STRING = str.maketrans({"\\": r"\\", "(": r"\(", ")": r"\)"})


def text_string(text: str) -> str:
    """Words for people: as they are if they are ASCII without control characters, else UTF-16."""
    if text.isascii() and text.isprintable():
        return f"({text.translate(_IN_STRING)})"
    return f"<FEFF{text.encode('utf-16-be', 'replace').hex().upper()}>"


class PdfFile:
    """Objects with their numbers, from 1. They are packed as they come, so that those of a long
    book are never all in memory as they are written."""

    def __init__(self) -> None:
        self._waiting: list[tuple[int, str]] = []
        self._streams: dict[int, tuple[str, bytes]] = {}
        self._packs = array("L", [0])
        """By number: the stream that an object is packed in, 0 if in none; and its place there."""
        self._places = array("H", [0])

    def number(self) -> int:
        """A number for an object that is yet to come."""
        self._packs.append(0)
        self._places.append(0)
        return len(self._packs) - 1

    def add(self, written: str, number: int = 0) -> int:
        """An object, its number."""
        number = number or self.number()
        self._waiting.append((number, written))
        if len(self._waiting) == _PACKED:
            self._pack()
        return number

    def stream(self, entries: str, data: bytes, *, ready: bool = False, plain: bool = False) -> int:
        """A stream, its number. `ready`: the data is deflated already. `plain`: to be left as it
        is, for programs that look for it in the file."""
        if not plain:
            entries += "/Filter/FlateDecode"
            data = data if ready else deflated(data)
        number = self.number()
        self._streams[number] = (entries, data)
        return number

    def write(self, root: int, information: int) -> bytes:
        """The whole file, with an ID made from its content."""
        self._pack()
        starts: dict[int, int] = {}
        parts, at = [_HEADER], len(_HEADER)
        for number, (entries, data) in self._streams.items():
            starts[number] = at
            head = f"{number} 0 obj\n<<{entries}/Length {len(data)}>>stream\n".encode("latin-1")
            part = head + data + b"\nendstream\nendobj\n"
            parts.append(part)
            at += len(part)
        mark = blake2b(digest_size=16)
        for part in parts:
            mark.update(part)
        name = mark.hexdigest().upper()
        table = self.number()
        starts[table] = at
        wide = max(2, (at.bit_length() + 7) // 8)
        data = deflated(_differences(self._table(starts, wide), wide + 3))
        last = (
            f"{table} 0 obj\n<</Type/XRef/Size {table + 1}/W[1 {wide} 2]/Root {root} 0 R"
            f"/Info {information} 0 R/ID[<{name}><{name}>]/Filter/FlateDecode"
            f"/DecodeParms<</Predictor 12/Columns {wide + 3}>>"
            f"/Length {len(data)}>>stream\n"
        )
        end = f"\nendstream\nendobj\nstartxref\n{at}\n%%EOF\n"
        return b"".join([*parts, last.encode(), data, end.encode()])

    def _table(self, starts: Mapping[int, int], wide: int) -> bytes:
        """Where each object stands, a row a number: its kind, and `wide` bytes and two more."""
        rows = bytearray(b"\x00" + bytes(wide) + b"\xff\xff")
        for number in range(1, len(self._packs)):
            stream = self._packs[number]
            rows += b"\x02" if stream else b"\x01"
            rows += (stream or starts[number]).to_bytes(wide)
            rows += self._places[number].to_bytes(2)
        return bytes(rows)

    def _pack(self) -> None:
        """Put the objects that wait into a stream."""
        if not self._waiting:
            return
        index, at = [], 0
        for number, written in self._waiting:
            index.append(f"{number} {at}")
            at += len(written) + 1
        head = " ".join(index) + "\n"
        body = "\n".join([written for _, written in self._waiting])
        entries = f"/Type/ObjStm/N {len(index)}/First {len(head)}"
        stream = self.stream(entries, (head + body).encode("latin-1"))
        for place, (number, _) in enumerate(self._waiting):
            self._packs[number], self._places[number] = stream, place
        self._waiting.clear()


def _differences(table: bytes, columns: int) -> bytes:
    """Each row as its difference from the one above (PNG's filter 2): neighbours are much alike."""
    above = bytes(columns) + table
    found = bytearray(len(table) // columns * (columns + 1))
    found[:: columns + 1] = b"\x02" * (len(table) // columns)
    for column in range(columns):
        pairs = zip(table[column::columns], above[column::columns], strict=False)
        found[column + 1 :: columns + 1] = bytes([(a - b) & 255 for a, b in pairs])
    return bytes(found)
