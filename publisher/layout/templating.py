"""Draw with the writer's templates: one Jinja2 environment, errors with template and line."""

from __future__ import annotations

import textwrap
from collections import Counter
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace
from traceback import extract_tb
from typing import Any, TypeVar

import jinja2
from jinja2.debug import rewrite_traceback_stack
from jinja2.environment import Template, TemplateModule
from jinja2.exceptions import SecurityError
from jinja2.ext import Extension
from jinja2.runtime import Context
from markupsafe import Markup

from publisher.errors import Place, Problem, PublisherError, TemplateError
from publisher.layout.frames import check_body
from publisher.layout.installed_code import InstalledCode, installed_code
from publisher.layout.macros import head, missing_macro, place_of_macro
from publisher.layout.sandbox import SETTINGS, Sandbox, TooMuchError
from publisher.manuscript.words import MissingWordsError
from publisher.model.look import Look
from publisher.tables.words import nearest
from publisher.templates import TemplateFile, Templates

_MOST_ENVIRONMENTS = 4
_LONGEST_MESSAGE = 200
_EXTENDS = "{% extends"
_HINTS = {
    RecursionError: "let it end",
    SecurityError: "use only what the page is given",
    TooMuchError: "write only what the page needs",
}

_Extension = TypeVar("_Extension", bound=Extension)


class _Names(Context):
    """The names that templates can use. None of it asks for the context, so that a call is just a
    call."""

    def call(
        self, what: Callable[..., Any], *args: Any, _loop_vars: Any = (), **values: Any
    ) -> Any:
        values.pop("_block_vars", None)
        return what(*args, **values)


class Compiled:
    """The compiled templates of one set of files, shared by all books made from them."""

    def __init__(self, templates: Templates, extensions: Sequence[type[Extension]] = ()) -> None:
        """With `extensions` of Jinja2, the code is made anew."""
        self.files = templates.files
        self.used: set[str] = templates.used
        self.code = InstalledCode(self.files, {} if extensions else installed_code(SETTINGS))
        self._environment = Sandbox(
            extensions,
            loader=jinja2.FunctionLoader(self._load),
            bytecode_cache=self.code,
            undefined=jinja2.StrictUndefined,
            auto_reload=True,
        )
        self._environment.context_class = _Names

    def _load(self, name: str) -> tuple[str, str, Callable[[], bool]] | None:
        file = self.files.get(name)
        if file is None:
            return None
        return file.text, name, lambda: self._note(name)

    def _note(self, name: str) -> bool:
        """Remember that a book used this file; Jinja2 asks each time, and it is never stale."""
        self.used.add(name)
        return True

    def extension(self, kind: type[_Extension]) -> _Extension:
        """One of the extensions that it was made with."""
        found = self._environment.extensions[kind.identifier]
        assert isinstance(found, kind)
        return found

    def begin(self, given: Any, *, anew: bool = False) -> None:
        """Begin to draw something from what is given; `anew`: the first thing of a book."""
        self._environment.begin(given, anew=anew)

    def template(self, name: str) -> Template:
        self.used.add(name)
        found: Template = self._environment.get_template(name)
        return found

    def page(self, name: str, values: Mapping[str, Any], *, anew: bool = False) -> str:
        """A whole page, from its template in templates/pages; `anew`: the first of a book."""
        template = self.guard(self.template, f"pages/{name}")
        self.begin(values, anew=anew)
        try:
            text: str = template.render(values)
        except Exception as error:  # a template can fail in any way that Python can
            raise self.error(error, Place(self._path(f"pages/{name}"), 1)) from None
        return text

    def guard(self, draw: Callable[..., Any], *args: Any, **values: Any) -> Any:
        """Call something of a template; whatever goes wrong in it becomes a TemplateError."""
        try:
            return draw(*args, **values)
        except Exception as error:  # a template can fail in any way that Python can
            raise self.error(error) from None

    def error(self, error: Exception, at: Place | None = None) -> PublisherError:
        """Return what an exception tells the writer of a template, while it is handled. `at`: the
        place if no line of a template had begun."""
        lines = list(self._lines(rewrite_traceback_stack()))
        if isinstance(error, RecursionError):  # wherever it stopped, it went round by this line
            lines = [line for line, _ in Counter(lines).most_common(1)]
        place = next((place for place, own in lines if own), lines[0][0] if lines else at)
        if isinstance(error, MissingWordsError) and not error.ours and lines and lines[0][1]:
            return error.asked_for_at(lines[0][0])
        if isinstance(error, PublisherError):
            return error
        if isinstance(error, jinja2.TemplateNotFound):
            name = str(error.name)
            return TemplateError(no_template(self.files, name, place or Place(f"templates/{name}")))
        if isinstance(error, jinja2.TemplateSyntaxError):
            place = Place(self._path(error.filename or error.name or ""), error.lineno)
            return _problem(place, str(error.message).rstrip("."), "mend the line")
        message = textwrap.shorten(str(error) or type(error).__name__, _LONGEST_MESSAGE)
        hints = (hint for kind, hint in _HINTS.items() if isinstance(error, kind))
        if isinstance(error, RecursionError):
            message = "this calls or includes itself without end"
        return _problem(place or Place("templates"), message, next(hints, "mend the line"))

    def _lines(self, error: BaseException) -> Iterator[tuple[Place, bool]]:
        """The lines of templates that an error came through, the innermost first, and whether the
        template is the writer's own. What a template extends never makes it go on without end."""
        endless = isinstance(error, (RecursionError, TooMuchError))
        for frame in reversed(extract_tb(error.__traceback__)):
            file, line = self.files.get(frame.filename), frame.lineno or 1
            if file is not None and not (endless and _EXTENDS in file.text.split("\n")[line - 1]):
                yield Place(file.path, line), not file.as_installed

    def _path(self, name: str) -> str:
        """Return where a template was read from: its code knows it by its name alone."""
        return self.files[name].path if name in self.files else name or "templates"


def _problem(place: Place, message: str, hint: str) -> TemplateError:
    return TemplateError(Problem(place, message, hint))


def no_template(files: Mapping[str, TemplateFile], name: str, place: Place) -> Problem:
    """A template is named, at a place, that is not there."""
    near = nearest(name, files)
    hint = f"did you mean {near}?" if near else "put it into the templates, or mend its name"
    return Problem(place, f"there is no template {name}", hint)


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


def blocks_of(templates: Templates, context: Mapping[str, Any]) -> Blocks:
    """The macros and frames of these files, for a book."""
    return Blocks(compiled(templates), context)


def web_page(templates: Templates, name: str, look: Look, **values: Any) -> str:
    """A web page from its template in templates/pages, with the look's colours at hand."""
    values = {"colour": hex_colours(look), **values}
    return compiled(templates).page(f"{name}.html", values, anew=True)


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
        templates.begin(None, anew=True)

    def draw(self, macro: str, x: float, y: float, args: Mapping[str, Any]) -> Markup:
        """Call `file.macro` of templates/blocks."""
        call = self._macros.get(macro)
        if call is None:
            call = self._macros[macro] = self._macro(macro, args)
        self._templates.begin(args)
        try:
            return call(x, y, **args)
        except Exception as error:  # a template can fail in any way that Python can
            raise self._error(error, macro, args) from None

    def _macro(self, macro: str, args: Mapping[str, Any]) -> Callable[..., Markup]:
        name, _, part = macro.partition(".")
        module = self._modules.get(name)
        if module is None:
            module = self._modules[name] = self._templates.guard(self._module, name)
        found: Callable[..., Markup] | None = getattr(module, part, None)
        if found is None:
            raise TemplateError(missing_macro(self._templates.files[_file(name)], part, args))
        return found

    def _module(self, name: str) -> TemplateModule:
        return self._templates.template(_file(name)).make_module(self._context)

    def _error(self, error: Exception, macro: str, args: Mapping[str, Any]) -> PublisherError:
        """Return what went wrong in a macro, or in the calling of it."""
        name, _, part = macro.partition(".")
        file = self._templates.files[_file(name)]
        told = self._templates.error(error, place := place_of_macro(file, part))
        if isinstance(error, TypeError) and told.problems[0].place == place:
            return TemplateError(replace(told.problems[0], hint=f"begin it {head(part, args)}"))
        return told

    def page(self, name: str, **values: Any) -> str:
        """A whole page from its frame in templates/pages, which has the page's body once."""
        frame = self._templates.page(f"{name}.svg", {**self._context, **values})
        if values["body"]:
            check_body(frame, self._templates.files, f"pages/{name}.svg")
        return frame


def _file(name: str) -> str:
    return f"blocks/{name}.svg"
