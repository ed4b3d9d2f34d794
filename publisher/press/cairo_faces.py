"""Open the house's font files as cairo font faces, with no font configuration of the machine's.

cairo's own way to a font file is FreeType's, which its Python binding leaves out: the two calls
are made through ctypes. Each file is opened once a process.
"""

from __future__ import annotations

import ctypes
from ctypes.util import find_library
from functools import cache
from typing import Any

from publisher.errors import FontError, Place, Problem
from publisher.fonts import font_file
from publisher.press.binding import cairocffi

_NO_HINTING = 2
"""FreeType's FT_LOAD_NO_HINTING."""


@cache
def cairo_face(face: str) -> Any:
    """The cairocffi FontFace of a face. FontError if its file can't be read."""
    path = font_file(face)
    freetype, cairo, library = _libraries()
    opened = ctypes.c_void_p()
    status = freetype.FT_New_Face(library, str(path).encode(), 0, ctypes.byref(opened))
    if status:
        what = f"FreeType can't read this font (status {status})"
        raise FontError(Problem(Place(str(path)), what, "install its package anew"))
    pointer = cairo.cairo_ft_font_face_create_for_ft_face(opened, _NO_HINTING)
    reference = cairocffi.ffi.cast("cairo_font_face_t *", pointer)
    return cairocffi.FontFace._from_pointer(reference, incref=False)


@cache
def _libraries() -> tuple[Any, Any, Any]:
    freetype = _load("freetype", "libfreetype.so.6", "libfreetype.6.dylib", "freetype-6.dll")
    cairo = _load("cairo", "libcairo.so.2", "libcairo.2.dylib", "libcairo-2.dll")
    cairo.cairo_ft_font_face_create_for_ft_face.restype = ctypes.c_void_p
    cairo.cairo_ft_font_face_create_for_ft_face.argtypes = [ctypes.c_void_p, ctypes.c_int]
    library = ctypes.c_void_p()
    freetype.FT_Init_FreeType(ctypes.byref(library))
    return freetype, cairo, library


def _load(name: str, *file_names: str) -> Any:
    for file_name in file_names:
        try:
            return ctypes.CDLL(file_name)
        except OSError:
            continue
    found = find_library(name)
    if found is None:
        what = f"the library {name} is not installed"
        raise FontError(Problem(Place("fonts"), what, "install cairo with FreeType"))
    return ctypes.CDLL(found)
