"""Write a PDF file: numbered objects, packed into streams, and the table of where each stands
(ISO 32000-1, 7.3 and 7.5); or an update of one."""

from __future__ import annotations

from array import array
from collections.abc import Mapping
from hashlib import blake2b

from publisher.compression import deflated
from publisher.frozen import frozen

_HEADER = b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"
_PACKED = 200
"""Objects in a stream: more make it smaller, and reading a single one slower."""

_IN_STRING = str.maketrans({"\\": r"\\", "(": r"\(", ")": r"\)"})


def text_string(text: str) -> str:
    """Words for people: as they are if they are ASCII without control characters, else UTF-16."""
    if text.isascii() and text.isprintable():
        return f"({text.translate(_IN_STRING)})"
    return f"<FEFF{text.encode('utf-16-be', 'replace').hex().upper()}>"


@frozen
class Finished:
    """A whole file, and what an update of it has to know: the numbers of its catalogue and of its
    document information, the first number that is free, where its table stands, its ID (hex)."""

    pdf: bytes
    root: int
    information: int
    free: int
    table: int
    identity: str


class PdfFile:
    """Objects with their numbers, from 1. They are packed as they come, so that those of a long
    book are never all in memory as they are written."""

    def __init__(self) -> None:
        self._waiting: list[tuple[int, str]] = []
        self._streams: dict[int, bytes] = {}
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

    def stream(
        self,
        entries: str,
        data: bytes,
        number: int = 0,
        *,
        ready: bool = False,
        plain: bool = False,
    ) -> int:
        """A stream, its number. `ready`: the data is deflated already. `plain`: to be left as it
        is, for programs that look for it in the file."""
        return self.whole(_stream(entries, data, ready=ready, plain=plain), number)

    def whole(self, written: bytes, number: int = 0) -> int:
        """An object that stands by itself, as every stream must; its number."""
        number = number or self.number()
        self._streams[number] = written
        return number

    def write(self, root: int, information: int) -> bytes:
        """The whole file, with an ID made from its content."""
        return self.finish(root, information).pdf

    def finish(self, root: int, information: int) -> Finished:
        """The same, ready to be updated."""
        self._pack()
        starts: dict[int, int] = {}
        parts, at = [_HEADER], len(_HEADER)
        for number, written in self._streams.items():
            starts[number] = at
            part = b"%d 0 obj\n%b\nendobj\n" % (number, written)
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
        pdf = b"".join([*parts, last.encode(), data, end.encode()])
        return Finished(pdf, root, information, table + 1, at, name)

    def _table(self, starts: Mapping[int, int], wide: int) -> bytes:
        """Return where each object stands, a row a number: its kind, and `wide` bytes and two
        more."""
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


class PdfUpdate:
    """Objects that come after those of a finished file, or take their place: its own bytes stay
    as they are, and the update stands behind them (ISO 32000-1, 7.5.6)."""

    def __init__(self, file: Finished) -> None:
        self._file = file
        self._free = file.free
        self._objects: dict[int, bytes] = {}

    def number(self) -> int:
        """A number for an object that is yet to come."""
        self._free += 1
        return self._free - 1

    def add(self, written: str, number: int = 0) -> int:
        """An object, its number."""
        number = number or self.number()
        self._objects[number] = written.encode("latin-1")
        return number

    def stream(self, entries: str, data: bytes, number: int = 0) -> int:
        """A stream, its number."""
        number = number or self.number()
        self._objects[number] = _stream(entries, data)
        return number

    def write(self) -> bytes:
        """The file, and the update after it, with an ID of its own."""
        file, at = self._file, len(self._file.pdf)
        parts, rows, index = [file.pdf], [], []
        mark = blake2b(file.identity.encode(), digest_size=16)
        for number, written in sorted(self._objects.items()):
            part = b"%d 0 obj\n%b\nendobj\n" % (number, written)
            index.append(f"{number} 1")
            rows.append(b"\x01" + at.to_bytes(4) + b"\x00\x00")
            parts.append(part)
            mark.update(part)
            at += len(part)
        table = self.number()
        rows.append(b"\x01" + at.to_bytes(4) + b"\x00\x00")
        entries = (
            f"/Type/XRef/W[1 4 2]/Index[{' '.join(index)} {table} 1]/Size {table + 1}"
            f"/Root {file.root} 0 R/Info {file.information} 0 R/Prev {file.table}"
            f"/ID[<{file.identity}><{mark.hexdigest().upper()}>]"
        )
        last = _stream(entries, b"".join(rows), plain=True)
        end = b"%d 0 obj\n%b\nendobj\nstartxref\n%d\n%%%%EOF\n" % (table, last, at)
        return b"".join([*parts, end])


def _stream(entries: str, data: bytes, *, ready: bool = False, plain: bool = False) -> bytes:
    if not plain:
        entries += "/Filter/FlateDecode"
        data = data if ready else deflated(data)
    head = f"<<{entries}/Length {len(data)}>>stream\n".encode("latin-1")
    return b"%b%b\nendstream" % (head, data)


def _differences(table: bytes, columns: int) -> bytes:
    """Each row as its difference from the one above (PNG's filter 2): neighbours are much alike."""
    above = bytes(columns) + table
    found = bytearray(len(table) // columns * (columns + 1))
    found[:: columns + 1] = b"\x02" * (len(table) // columns)
    for column in range(columns):
        pairs = zip(table[column::columns], above[column::columns], strict=False)
        found[column + 1 :: columns + 1] = bytes([(a - b) & 255 for a, b in pairs])
    return bytes(found)
