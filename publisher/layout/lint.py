"""Look a writer's templates over without drawing anything: syntax, what they name, the body."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from jinja2 import nodes

from publisher.errors import Place, Problem, TemplateError
from publisher.layout.frames import check_body, has_body, parsed
from publisher.layout.templating import compiled, no_template
from publisher.templates import TemplateFile, Templates

_FRAMES = ("pages/cover.svg", "pages/index.svg", "pages/text.svg")
_NAMING = (nodes.Extends, nodes.Include, nodes.Import, nodes.FromImport)


def lint_templates(templates: Templates) -> Iterator[Problem]:
    """Yield what is wrong in templates of the writer's own, and in the frames made of them."""
    files = templates.files
    broken = False
    for name, file in files.items():
        if name.endswith((".svg", ".html")) and not file.as_installed:
            found = tuple(_mistakes(templates, name, file))
            broken = broken or bool(found)
            yield from found
    if not broken:
        yield from _without_body(files)


def _mistakes(templates: Templates, name: str, file: TemplateFile) -> Iterator[Problem]:
    code = compiled(templates)
    try:
        code.guard(code.template, name)
    except TemplateError as error:
        yield from error.problems
        return
    node: Any
    for kind in _NAMING:
        for node in parsed(file).find_all(kind):
            other = node.template
            named = isinstance(other, nodes.Const) and not getattr(node, "ignore_missing", False)
            if named and other.value not in templates.files:
                yield no_template(templates.files, other.value, Place(file.path, node.lineno))


def _without_body(files: Mapping[str, TemplateFile]) -> Iterator[Problem]:
    for name in _FRAMES:
        if name in files and not has_body(files, name):
            try:
                check_body("", files, name)
            except TemplateError as error:
                yield from error.problems
