"""Name each face of the house: what SVG calls it, and the file it is drawn from."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from importlib.util import find_spec
from pathlib import Path
from types import MappingProxyType

from publisher.errors import FontError, Place, Problem
from publisher.frozen import frozen

_SANS, _SEMIBOLD = "Source Sans Pro", "Source Sans Pro Semibold"
_SERIF, _SERIF_SEMIBOLD = "Source Serif Pro", "Source Serif Pro Semibold"


@frozen
class Face:
    """One face. `weight` and `style` are None where its family has no other, so that they say
    nothing; `package` is the module whose folder `files` holds the font, or "" for our own."""

    family: str
    weight: str | None
    style: str | None
    package: str
    file_name: str


FACES: Mapping[str, Face] = MappingProxyType(
    {
        "sans": Face(
            _SANS, "normal", "normal", "font_source_sans_pro", "SourceSansPro-Regular.ttf"
        ),
        "bold": Face(_SANS, "bold", "normal", "font_source_sans_pro", "SourceSansPro-Bold.ttf"),
        "italic": Face(_SANS, "normal", "italic", "font_source_sans_pro", "SourceSansPro-It.ttf"),
        "semibold": Face(
            _SEMIBOLD, None, "normal", "font_source_sans_pro", "SourceSansPro-Semibold.ttf"
        ),
        "semibold-italic": Face(
            _SEMIBOLD, None, "italic", "font_source_sans_pro", "SourceSansPro-SemiboldIt.ttf"
        ),
        "serif": Face(
            _SERIF_SEMIBOLD, None, None, "font_source_serif_pro", "SourceSerifPro-Semibold.ttf"
        ),
        "serif-regular": Face(
            _SERIF, None, None, "font_source_serif_pro", "SourceSerifPro-Regular.ttf"
        ),
        "signs": Face("Knot Signs", None, None, "", "knot-signs.ttf"),
    }
)


@cache
def svg_font(face: str) -> Mapping[str, str]:
    """SVG attributes that choose a face wherever they stand, whatever the parent's font is."""
    found = _face(face)
    written = {
        "font-family": found.family,
        "font-weight": found.weight,
        "font-style": found.style,
    }
    return MappingProxyType({name: value for name, value in written.items() if value is not None})


@cache
def font_attributes(face: str) -> str:
    """The same, ready to stand in a tag: `font-family="…" font-weight="bold" …`."""
    return " ".join(f'{name}="{value}"' for name, value in svg_font(face).items())


@cache
def face_named(family: str, weight: str, style: str) -> str | None:
    """The face that SVG's three font attributes mean (first family of a list), or None."""
    first = family.split(",")[0].strip("\"' ")
    heavy = "bold" if weight in ("bold", "bolder") or _number(weight) >= 550 else "normal"
    slant = "italic" if style in ("italic", "oblique") else "normal"
    for name, face in FACES.items():
        if face.family == first and face.weight in (None, heavy) and (face.style in (None, slant)):
            return name
    return None


@cache
def font_file(face: str) -> Path:
    """The file of a face. FontError if its package, or the file, is not installed."""
    found = _face(face)
    path = _folder(found) / found.file_name
    if not path.is_file():
        what, remedy = f"the font of “{face}” is not there", "install the package anew"
        raise FontError(Problem(Place(str(path)), what, remedy))
    return path


def _folder(face: Face) -> Path:
    if not face.package:
        return Path(__file__).parent
    spec = find_spec(face.package)
    if spec is None or spec.origin is None:
        package = face.package.replace("_", "-")
        what = f"the font package of {face.family} is not installed"
        raise FontError(Problem(Place(package), what, f"run: pip install {package}"))
    return Path(spec.origin).parent / "files"


def _face(name: str) -> Face:
    if name not in FACES:
        what = f"there is no face “{name}”"
        raise FontError(Problem(Place("fonts"), what, f"use one of {', '.join(FACES)}"))
    return FACES[name]


def _number(weight: str) -> int:
    return int(weight) if weight.isdigit() else 0
