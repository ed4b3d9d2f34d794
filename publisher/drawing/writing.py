"""Write a drawing's elements as SVG, their attributes by name, so that it is the same each time."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from publisher.drawing.elements import Element

_IN_TEXT = (("&", "&amp;"), ("<", "&lt;"), (">", "&gt;"))
_IN_ATTRIBUTES = (*_IN_TEXT, ('"', "&quot;"), ("\r", "&#13;"), ("\n", "&#10;"), ("\t", "&#09;"))


def write(element: Element) -> str:
    """An element with all that is in it."""
    parts: list[str] = []
    _write(element, parts)
    return "".join(parts)


def write_path(attributes: Mapping[str, str]) -> str:
    """A path with its attributes in the order given."""
    return f"<path{_attributes(attributes.items())} />"


def write_label(place: str, words: str) -> str:
    """A text, `place` being its attributes as they are written."""
    if "&" in words or "<" in words or ">" in words:
        words = _escaped(words, _IN_TEXT)
    return f"<text {place}>{words}</text>" if words else f"<text {place} />"


def _write(element: Element, parts: list[str]) -> None:
    name = element.name
    start = f"<{name}{_attributes(sorted(element.attributes.items()))}"
    if element.elements:
        parts.append(f"{start}>")
        for inner in element.elements:
            if isinstance(inner, str):
                parts.append(inner)
            else:
                _write(inner, parts)
        parts.append(f"</{name}>")
    elif element.text:
        parts.append(f"{start}>{_escaped(element.text, _IN_TEXT)}</{name}>")
    else:
        parts.append(f"{start} />")


def _attributes(given: Iterable[tuple[str, str]]) -> str:
    return "".join([f' {key}="{_escaped(value, _IN_ATTRIBUTES)}"' for key, value in given if value])


def _escaped(text: str, marks: tuple[tuple[str, str], ...]) -> str:
    for mark, written in marks:
        if mark in text:
            text = text.replace(mark, written)
    return text
