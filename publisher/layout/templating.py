"""Draw with the writer's templates: one Jinja2 environment, errors with template and line."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Mapping
from traceback import extract_tb
from typing import Any

import jinja2
from jinja2.debug import rewrite_traceback_stack
from jinja2.environment import Template, TemplateModule
from jinja2.runtime import Context
from markupsafe import Markup

from publisher.drawing.look import Look
from publisher.drawing.numbers import number
from publisher.errors import Place, Problem, PublisherError, TemplateError
from publisher.layout.kept_code import KeptCode
from publisher.templates import Templates

_MOST_ENVIRONMENTS = 4
_SYNTAX = {"autoescape": True, "trim_blocks": True, "lstrip_blocks": True}
_FILTER = inspect.unwrap(number).__code__
_SETTINGS = repr((_SYNTAX, _FILTER.co_code, _FILTER.co_consts))
"""What a template's compiled code depends on: how it is read, and the filter, which Jinja2 calls
itself where all that it is given is known."""


class _Names(Context):
    """What templates can name. None of it asks for the context, so that a call is just a call."""

    def call(
        self, what: Callable[..., Any], *args: Any, _loop_vars: Any = (), **values: Any
    ) -> Any:
        values.pop("_block_vars", None)
        return what(*args, **values)


class Compiled:
    """The compiled templates of one set of files, shared by all books made from them."""

    def __init__(self, templates: Templates) -> None:
        self.files = templates.files
        self.used: set[str] = templates.used
        self._environment = jinja2.Environment(
            loader=jinja2.FunctionLoader(self._load),
            bytecode_cache=KeptCode(self.files, _SETTINGS),
            undefined=jinja2.StrictUndefined,
            autoescape=_SYNTAX["autoescape"],
            trim_blocks=_SYNTAX["trim_blocks"],
            lstrip_blocks=_SYNTAX["lstrip_blocks"],
            auto_reload=True,
        )
        self._environment.context_class = _Names
        self._environment.filters["n"] = number

    def _load(self, name: str) -> tuple[str, str, Callable[[], bool]] | None:
        file = self.files.get(name)
        if file is None:
            return None
        return file.text, name, lambda: self._note(name)

    def _note(self, name: str) -> bool:
        """Remember that a book used this file; Jinja2 asks each time, and it is never stale."""
        self.used.add(name)
        return True

    def template(self, name: str) -> Template:
        self.used.add(name)
        return self._environment.get_template(name)

    def page(self, name: str, values: Mapping[str, Any]) -> str:
        """A whole page, from its template in templates/pages."""
        template = self.guard(self.template, f"pages/{name}")
        text: str = self.guard(template.render, values)
        return text

    def guard(self, draw: Callable[..., Any], *args: Any, **values: Any) -> Any:
        """Call something of a template; whatever goes wrong in it becomes a TemplateError."""
        try:
            return draw(*args, **values)
        except PublisherError:
            raise
        except jinja2.TemplateNotFound as error:
            place = Place(f"templates/{error.name}")
            raise _problem(place, "there is no such template", "put it there") from None
        except jinja2.TemplateSyntaxError as error:
            place = Place(self._path(error.filename or error.name or ""), error.lineno)
            raise _problem(place, str(error.message), "mend the line") from None
        except Exception as error:  # a template can fail in any way that Python can
            place = self._place(rewrite_traceback_stack())
            raise _problem(place, str(error), "mend the line") from None

    def _place(self, error: BaseException) -> Place:
        for frame in reversed(extract_tb(error.__traceback__)):
            if frame.filename in self.files:
                return Place(self._path(frame.filename), frame.lineno)
        return Place("templates")

    def _path(self, name: str) -> str:
        """Where a template was read from: its code knows it by its name alone."""
        return self.files[name].path if name in self.files else name or "templates"


def _problem(place: Place, message: str, hint: str) -> TemplateError:
    return TemplateError(Problem(place, message, hint))


_compiled: dict[int, Compiled] = {}


def compiled(templates: Templates) -> Compiled:
    """The templates of these files, compiled once, however many books follow."""
    found = _compiled.get(id(templates.files))
    if found is None or found.files is not templates.files:
        if len(_compiled) >= _MOST_ENVIRONMENTS:
            _compiled.clear()
        found = _compiled[id(templates.files)] = Compiled(templates)
    found.used = templates.used
    return found


def web_page(templates: Templates, name: str, look: Look, **values: Any) -> str:
    """A web page from its template in templates/pages, with the look's colours at hand."""
    return compiled(templates).page(f"{name}.html", {"colour": hex_colours(look), **values})


def hex_colours(look: Look) -> dict[str, str]:
    """The look's colours as templates write them."""
    return {name: colour.hex for name, colour in look.colours.items()}


class Blocks:
    """The macros of templates/blocks, with a book's look and functions at hand in all of them."""

    def __init__(self, templates: Compiled, context: Mapping[str, Any]) -> None:
        self._templates = templates
        self._context = dict(context)
        self._modules: dict[str, TemplateModule] = {}
        self._macros: dict[str, Callable[..., Markup]] = {}

    def draw(self, macro: str, x: float, y: float, args: Mapping[str, Any]) -> Markup:
        """Call `file.macro` of templates/blocks."""
        call = self._macros.get(macro)
        if call is None:
            call = self._macros[macro] = self._templates.guard(self._macro, macro)
        found: Markup = self._templates.guard(call, x, y, **args)
        return found

    def _macro(self, macro: str) -> Callable[..., Markup]:
        name, _, part = macro.partition(".")
        module = self._modules.get(name)
        if module is None:
            template = self._templates.template(f"blocks/{name}.svg")
            module = self._modules[name] = template.make_module(self._context)
        found: Callable[..., Markup] | None = getattr(module, part, None)
        if found is None:
            where = f"templates/blocks/{name}.svg"
            raise _problem(Place(where), f"the macro {part} is missing", "put it back")
        return found

    def page(self, name: str, **values: Any) -> str:
        """A whole page from its frame in templates/pages."""
        return self._templates.page(f"{name}.svg", {**self._context, **values})
