"""Write a PDF file: numbered objects, packed into streams, and the table of where each stands
(ISO 32000-1, 7.3 and 7.5)."""

from __future__ import annotations

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
    """Objects with their numbers, from 1, until they are written."""

    def __init__(self) -> None:
        self._plain: dict[int, str] = {}
        self._streams: dict[int, tuple[str, bytes]] = {}
        self._count = 0

    def number(self) -> int:
        """A number for an object that is yet to come."""
        self._count += 1
        return self._count

    def add(self, written: str, number: int = 0) -> int:
        """An object, its number."""
        number = number or self.number()
        self._plain[number] = written
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
        numbers = sorted(self._plain)
        places: dict[int, tuple[int, int, int]] = {}
        for start in range(0, len(numbers), _PACKED):
            self._pack(numbers[start : start + _PACKED], places)
        parts, at = [_HEADER], len(_HEADER)
        for number, (entries, data) in self._streams.items():
            places[number] = (1, at, 0)
            head = f"{number} 0 obj\n<<{entries}/Length {len(data)}>>stream\n".encode("latin-1")
            part = head + data + b"\nendstream\nendobj\n"
            parts.append(part)
            at += len(part)
        mark = blake2b(b"".join(parts), digest_size=16).hexdigest().upper()
        table = self.number()
        places[table] = (1, at, 0)
        wide = max(2, (at.bit_length() + 7) // 8)
        rows = [b"\x00" + bytes(wide) + b"\xff\xff"]
        for number in range(1, table + 1):
            kind, first, second = places[number]
            rows.append(bytes([kind]) + first.to_bytes(wide) + second.to_bytes(2))
        data = deflated(_differences(rows))
        last = (
            f"{table} 0 obj\n<</Type/XRef/Size {table + 1}/W[1 {wide} 2]/Root {root} 0 R"
            f"/Info {information} 0 R/ID[<{mark}><{mark}>]/Filter/FlateDecode"
            f"/DecodeParms<</Predictor 12/Columns {wide + 3}>>"
            f"/Length {len(data)}>>stream\n"
        )
        end = f"\nendstream\nendobj\nstartxref\n{at}\n%%EOF\n"
        return b"".join([*parts, last.encode(), data, end.encode()])

    def _pack(self, numbers: list[int], places: dict[int, tuple[int, int, int]]) -> None:
        """Put objects into a stream."""
        index, at = [], 0
        for number in numbers:
            index.append(f"{number} {at}")
            at += len(self._plain[number]) + 1
        head = " ".join(index) + "\n"
        body = "\n".join([self._plain[number] for number in numbers])
        entries = f"/Type/ObjStm/N {len(numbers)}/First {len(head)}"
        stream = self.stream(entries, (head + body).encode("latin-1"))
        for place, number in enumerate(numbers):
            places[number] = (2, stream, place)


def _differences(rows: list[bytes]) -> bytes:
    """Each row as its difference from the one above (PNG's filter 2): neighbours are much alike."""
    parts, above = [], bytes(len(rows[0]))
    for row in rows:
        parts.append(b"\x02" + bytes([(a - b) & 255 for a, b in zip(row, above, strict=True)]))
        above = row
    return b"".join(parts)
