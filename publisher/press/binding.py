"""Bring in cairocffi in a tenth of its time: its C declarations read ahead, cairo found by name.

cairocffi reads 50 kB of C at every start, and asks other programs (ldconfig, a compiler) where
cairo is. Where its declarations are not those that were read ahead, or the library is not found by
its name, it does as ever. After an update of cairocffi, read ahead again:

    python -m publisher.press.binding
"""

from __future__ import annotations

import ctypes.util
import sys
import zlib
from contextlib import suppress
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Any

_NAME = "cairocffi"
_DECLARATIONS = f"{_NAME}.ffi"
_TABLES = "publisher.press.cairo_tables"


class _ReadAhead(ModuleType):
    """Stands in for the module in which cairocffi reads its declarations."""

    def __getattr__(self, name: str) -> Any:
        if name != "ffi":
            raise AttributeError(name)
        headers: str = import_module(f"{_NAME}.constants")._CAIRO_HEADERS
        self.ffi: Any = _read_ahead(headers) or _read(headers)
        return self.ffi


def checksum(headers: str) -> int:
    """By which declarations are known."""
    return zlib.crc32(headers.encode())


def _read_ahead(headers: str) -> Any:
    """The FFI object made from these declarations earlier, if there is one."""
    with suppress(ImportError):
        tables = import_module(_TABLES)
        if checksum(headers) == tables.HEADERS:
            return tables.ffi
    return None


def _read(headers: str) -> Any:
    from cffi import FFI

    ffi = FFI()
    ffi.cdef(headers)
    return ffi


def _bring_in() -> Any:
    if _NAME in sys.modules:
        return sys.modules[_NAME]
    find_library = ctypes.util.find_library
    sys.modules[_DECLARATIONS] = _ReadAhead(_DECLARATIONS)
    ctypes.util.find_library = lambda name: None
    try:
        return import_module(_NAME)
    except OSError:  # no such name here: let it search
        for name in [name for name in sys.modules if name.partition(".")[0] == _NAME]:
            del sys.modules[name]
    finally:
        ctypes.util.find_library = find_library
    return import_module(_NAME)


def tables() -> str:
    """The source of the module with cairocffi's declarations, read ahead."""
    import io

    headers = import_module(f"{_NAME}.constants")._CAIRO_HEADERS
    ffi, source = _read(headers), io.StringIO()
    ffi.set_source(_TABLES.rpartition(".")[2], None)
    ffi.emit_python_code(source)
    told = '"""What cairo\'s C declarations say, as publisher.press.binding read them."""\n'
    return f"{told}{source.getvalue()}\nHEADERS = {checksum(headers)}\n"


cairocffi: Any = _bring_in()

if __name__ == "__main__":
    Path(__file__).with_name("cairo_tables.py").write_text(tables(), encoding="utf-8")
