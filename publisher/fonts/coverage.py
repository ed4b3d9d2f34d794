"""Find the characters of a text that can't be printed, opening no font for usual letters."""

from __future__ import annotations

import re
from collections.abc import Iterable

from publisher.fonts.shaping import missing_characters

_IN_EVERY_FACE = re.compile("[ -~\u00a0-\u012b\u0134-\u0149\u014c-\u0165\u0168-\u017e–—‘’“”•…€−]*")


def lacking_characters(text: str, faces: Iterable[str]) -> str:
    """The characters of a text that one of the faces has no glyph for, each once, in order."""
    if _IN_EVERY_FACE.fullmatch(text):
        return ""
    found = {letter for face in faces for letter in missing_characters(text, face)}
    return "".join(sorted(found, key=text.index))
