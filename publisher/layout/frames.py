"""Say where a page's frame goes wrong: it has to have the page's body once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import jinja2
from jinja2 import nodes
from jinja2.meta import find_referenced_templates

from publisher.errors import Place, Problem, TemplateError
from publisher.model.book import BODY
from publisher.templates import TemplateFile


def check_body(frame: str, files: Mapping[str, TemplateFile], name: str) -> None:
    """TemplateError if a frame, drawn by the template of a name, has its body not just once."""
    count = frame.count(BODY)
    if count == 1:
        return
    told = "nowhere" if count == 0 else "twice" if count == 2 else f"{count} times"
    message = f"the frame has the page's body {told}"
    hint = "write {{ body }} just once, between <svg …> and </svg>"
    raise TemplateError(Problem(_place(files, name, count), message, hint))


def has_body(files: Mapping[str, TemplateFile], name: str) -> bool:
    """Is the body named at all, in a frame's template or in those that it extends or includes?"""
    return any(_bodies(file) for file in _chain(files, name))


def _place(files: Mapping[str, TemplateFile], name: str, count: int) -> Place:
    """The last line of the writer's that has the body; else the end of what she wrote of it."""
    chain = list(_chain(files, name))
    own = [file for file in chain if not file.as_installed] or chain
    lines = [Place(file.path, line) for file in own for line in _bodies(file)]
    if lines:
        return lines[-1] if count else lines[0]
    whole = next((file for file in own if "</svg>" in file.text), own[0])
    return Place(whole.path, whole.text[: whole.text.rfind("</svg>")].count("\n") + 1)


def _chain(files: Mapping[str, TemplateFile], name: str) -> Iterator[TemplateFile]:
    """A template, and those that it extends or includes, each once."""
    names = [name]
    for one in names:
        if one in files:
            yield files[one]
            found = find_referenced_templates(parsed(files[one]))
            names += [other for other in dict.fromkeys(found) if other and other not in names]


def _bodies(file: TemplateFile) -> list[int]:
    return [node.lineno for node in parsed(file).find_all(nodes.Name) if node.name == "body"]


def parsed(file: TemplateFile) -> nodes.Template:
    """A template's syntax tree."""
    return jinja2.Environment().parse(file.text)
