"""Turn a file into text: UTF-8, plain line ends, composed characters."""

from __future__ import annotations

import unicodedata
from pathlib import Path

from publisher.errors import MORE_OPEN, Place, Problem, SourceError, is_at_limit

MARK = "\ufeff"
"""What some editors begin a file with."""
MOST_BYTES = 8_000_000
"""A pattern of a million knots has about one."""


def read_text(path: Path) -> str:
    """The file's text; SourceError if it can't be had."""
    return as_read(read_raw_text(path))


def read_raw_text(path: Path) -> str:
    """The file's text as it is, to the byte; SourceError if it can't be had."""
    raw = read_bytes(path)
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError as error:
        raise SourceError(_not_utf8(path, raw, error.start)) from None


def as_read(text: str) -> str:
    """A text without a mark of its order of bytes, with plain line ends, composed."""
    text = text.removeprefix(MARK).replace("\r\n", "\n").replace("\r", "\n")
    return text if text.isascii() else unicodedata.normalize("NFC", text)


def read_bytes(path: Path) -> bytes:
    """The file's bytes; SourceError if it can't be read or is far too large."""
    try:
        if path.is_dir():
            raise IsADirectoryError
        if path.exists() and not path.is_file():
            raise _error(path, "this is a pipe or a device, not a file", _OTHER)
        with path.open("rb") as file:
            raw = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        if path.is_symlink():
            hint = "mend the link, or take it away"
            raise _error(path, "this is a link to a file that is not there", hint) from None
        raise _error(path, "there is no such file", "look at the spelling and the folder") from None
    except IsADirectoryError:
        raise _error(path, "this is a folder, not a file", _OTHER) from None
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "its name can't be used"
        hint = "see whether you may open it, or whether its disk is there"
        if is_at_limit(error):
            hint = MORE_OPEN
        raise _error(path, f"this file can't be read ({reason.lower()})", hint) from None
    if len(raw) > MOST_BYTES:
        hint = "is it another kind of file? A pattern has a few thousand letters"
        raise _error(path, f"this file is larger than {MOST_BYTES // 1_000_000} MB", hint)
    return raw


def _error(path: Path, message: str, hint: str) -> SourceError:
    return SourceError(Problem(Place(str(path)), message, hint))


def _not_utf8(path: Path, raw: bytes, start: int) -> Problem:
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        return Problem(Place(str(path), 1), "this file is UTF-16 text", _SAVE)
    line = raw.count(b"\n", 0, start) + 1
    begin = raw.rfind(b"\n", 0, start) + 1
    before = raw[begin:start].decode("utf-8", "replace")
    message = f"character {len(before) + 1} of this line is not UTF-8 text"
    return Problem(Place(str(path), line), message, _SAVE)


_OTHER = "put a file in its place, or name another"
_SAVE = "save the file again with the encoding UTF-8 (your editor's Save As offers it)"
