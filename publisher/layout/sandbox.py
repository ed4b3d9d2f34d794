"""Run templates so that they write pages and do nothing else, nor go on without end.

Templates are handed on with a look, so whoever wrote one is not trusted. Jinja2's sandbox keeps
them from what stands behind the values that they are given. What it leaves open, loops without end
and texts as large as the memory, is counted here as work: the steps of a template, what it writes,
and what operators and filters make, before they make it.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import wraps
from itertools import chain
from pathlib import Path
from typing import Any

from jinja2 import Environment, TemplateSyntaxError, nodes, pass_context
from jinja2.ext import Extension
from jinja2.lexer import TOKEN_DATA, Token, TokenStream
from jinja2.runtime import Context
from jinja2.sandbox import ImmutableSandboxedEnvironment
from jinja2.utils import Namespace
from jinja2.visitor import NodeTransformer

from publisher.drawing.base.numbers import number

SETTINGS = Path(__file__).read_text(encoding="utf-8")
"""What a template's compiled code depends on: all that is said here."""

_STEP, _CALL = 50, 500
"""The work of a step of a template, and of a call, in characters written."""
_FULL = 5_000_000
"""The work that a book's templates may do at once: 100,000 steps."""
_REGAINED = 20_000
"""What is added for each macro that is drawn."""
_GIVEN_ITEM, _GIVEN_CHARACTER = 500, 4
"""What is added, if that is not enough, for each value that a macro is given and their letters."""
_MOST_TOKENS = 20_000
_WIDEST = 1000
"""The largest number that may tell a filter how much to write."""

_CONTAINERS = (list, tuple, dict, set, frozenset)
_LOOKED_THROUGH = (str, bytes, range, *_CONTAINERS)
_ON_TEXTS = """capitalize count endswith find index isalnum isalpha isdigit islower isupper lower
    lstrip partition removeprefix removesuffix rfind rpartition rsplit rstrip split splitlines
    startswith strip title upper"""
_ON_OTHERS = "count get index is_integer items keys values"
"""Methods of Python's own types that make no more than they are given."""
_LEFT_OUT = """attr filesizeformat forceescape pprint random striptags urlencode urlize wordcount
    wordwrap xmlattr"""
"""Filters of Jinja2 that no page needs: for the web, by chance, by patterns."""
_WRITES_NUMBERS = "batch center indent n round slice tojson truncate"
"""Filters that make more, the larger the numbers that they are given."""
_TEXT_METHODS, _METHODS = frozenset(_ON_TEXTS.split()), frozenset(_ON_OTHERS.split())


class TooMuchError(Exception):
    """A template does too much. The text says what."""


class Sandbox(ImmutableSandboxedEnvironment):
    """Jinja2's environment, in which all that templates do is counted."""

    intercepted_binops = frozenset({"+", "*", "**", "%"})

    def __init__(self, extensions: Iterable[type[Extension]] = (), **settings: Any) -> None:
        self._left, self._given = _FULL, None
        self._open: set[tuple[type, str]] = set()
        """Attributes of types that are safe, as they are met."""
        self._plain: set[type] = set()
        """Types whose values have no size, as they are met."""
        super().__init__(
            extensions=(_Reading, *extensions),
            autoescape=True,
            trim_blocks=True,
            lstrip_blocks=True,
            optimized=False,  # nothing is worked out before it is counted
            finalize=_written,
            **settings,
        )
        self.filters["n"] = number
        for name in _LEFT_OUT.split():
            del self.filters[name]
        del self.globals["lipsum"]
        for known in (self.filters, self.tests):
            known.update({name: self._counted(name, call) for name, call in known.items()})
        self.filters |= {_MADE: self.made, _WRITTEN: _written, _WORK: self.work}

    def begin(self, given: Any, *, anew: bool = False) -> None:
        """Begin to draw from what is given; `anew`: the first time for a book."""
        self._left = _FULL if anew else min(self._left + _REGAINED, _FULL)
        self._given = given

    def work(self, amount: int) -> bool:
        """Count work. TooMuchError if all that may be done is done. True, so that it can stand in
        a condition."""
        self._left -= amount
        if self._left < 0 and self._given is not None:
            given, self._given = self._given, None
            self._left += _allowed(given)
        if self._left < 0:
            raise TooMuchError("this goes on without end, or makes far too much")
        return True

    def size(self, values: Iterable[Any]) -> int:
        """The characters and items in values, all that lists hold again and again included. To
        look through them is work."""
        total, plain = 0, self._plain
        inside = [values]
        for held in inside:
            before = total
            for one in held:
                total += 1
                if type(one) in plain:
                    continue
                if isinstance(one, _LOOKED_THROUGH):
                    total += len(one)
                    if isinstance(one, dict):
                        inside.append(one.values())
                    if isinstance(one, _CONTAINERS):
                        inside.append(one)
                else:
                    plain.add(type(one))
            self.work(_STEP + total - before)
        return total

    def made(self, value: Any) -> Any:
        """A value that was just made, or will be looked through."""
        if isinstance(value, str):
            self.work(len(value))
        elif type(value) not in self._plain:
            self.size((value,))
        return value

    def call_binop(self, context: Context, operator: str, left: Any, right: Any) -> Any:
        if type(left) is not float and type(right) is not float:
            self.work(self._growth(operator, left, right))
        return super().call_binop(context, operator, left, right)

    def _growth(self, operator: str, left: Any, right: Any) -> int:
        """The size of what an operator will make."""
        if isinstance(left, int) and isinstance(right, int):
            bits = left.bit_length()
            return bits * abs(right) if operator == "**" else bits + right.bit_length()
        if operator == "*":
            value, times = (left, right) if isinstance(right, int) else (right, left)
            return self.size((value,)) * max(times, 0) if isinstance(times, int) else 0
        if operator == "%" and isinstance(left, str):
            return _size_of_format(left) + self.size((right,))
        return self.size((left, right))

    def call(__self, __context: Context, __obj: Any, *args: Any, **kwargs: Any) -> Any:  # noqa: N805
        __self.work(_CALL)
        __self.size(args)
        if kwargs:
            __self.size(kwargs.values())
        __self.made(getattr(__obj, "__self__", None))
        return __self.made(__context.call(__obj, *args, **kwargs))

    def is_safe_attribute(self, obj: Any, attr: str, value: Any) -> bool:
        if isinstance(obj, (int, float, complex, *_LOOKED_THROUGH)) and callable(value):
            return attr in (_TEXT_METHODS if isinstance(obj, str) else _METHODS)
        safe = super().is_safe_attribute(obj, attr, value)  # whatever the value is
        if safe and not isinstance(obj, _LOOKED_THROUGH):
            self._open.add((type(obj), attr))
        return safe

    def getattr(self, obj: Any, attribute: str) -> Any:
        if (type(obj), attribute) in self._open:
            try:
                return getattr(obj, attribute)
            except AttributeError:
                pass
        return super().getattr(obj, attribute)

    def wrap_str_format(self, value: Any) -> None:
        """Leave formats to the filter, which knows what they make."""

    def get_template(self, *args: Any, **kwargs: Any) -> Any:
        self.work(_CALL)
        return super().get_template(*args, **kwargs)

    def _parse(self, source: str, name: str | None, filename: str | None) -> nodes.Template:
        try:
            return super()._parse(source, name, filename)
        except RecursionError:
            raise _too_deep(self._reading.line, name) from None
        except ValueError:
            number = re.search(r"\d[\d_]{4000}", source)
            line = source.count("\n", 0, number.start()) + 1 if number else self._reading.line
            raise _too_deep(line, name) from None

    def _generate(self, source: nodes.Template, name: str | None, *rest: Any, **more: Any) -> str:
        try:
            return super()._generate(_Counted().visit(source), name, *rest, **more)
        except RecursionError:
            raise _too_deep(self._reading.long_line, name) from None

    def _compile(self, source: str, filename: str) -> Any:
        try:
            return super()._compile(source, filename)
        except (SyntaxError, RecursionError, MemoryError, ValueError) as error:
            line = _template_line(source, getattr(error, "lineno", None) or 1)
            raise _too_deep(line, filename) from None

    @property
    def _reading(self) -> _Reading:
        found = self.extensions[_Reading.identifier]
        assert isinstance(found, _Reading)
        return found

    def _counted(self, name: str, call: Any) -> Callable[..., Any]:
        """A filter or test that counts what it looks through, and what it will make."""
        leading = 1 if hasattr(call, "jinja_pass_arg") else 0
        growth, writes_numbers = _GROWTH.get(name), name in _WRITES_NUMBERS.split()

        @wraps(call)
        def counted(*args: Any, **kwargs: Any) -> Any:
            given = [tuple(arg) if hasattr(arg, "__next__") else arg for arg in args[leading:]]
            self.work(_STEP)
            size = self.size((*given, *kwargs.values()))
            if writes_numbers:
                _check_numbers(name, chain(given[1:], kwargs.values()))
            if growth is not None:
                self.work(growth(size, *given, **kwargs))
            return call(*args[:leading], *given, **kwargs)

        return counted


def _allowed(given: Any) -> int:
    """The work that is added for what a template is given."""
    work, inside, seen = 0, [given], set()
    while inside:
        one = inside.pop()
        work += _GIVEN_ITEM
        if isinstance(one, str):
            work += _GIVEN_CHARACTER * len(one)
        elif id(one) not in seen:
            seen.add(id(one))
            if isinstance(one, Mapping):
                inside += one.values()
            elif isinstance(one, (list, tuple)):
                inside += one
            else:
                inside += [getattr(one, name) for name in getattr(one, "__dataclass_fields__", ())]
    return work


@pass_context
def _written(context: Context, value: Any) -> Any:
    """A value as it goes into a text."""
    if isinstance(value, (int, float)):
        return value
    if not isinstance(value, str):
        if isinstance(value, (*_CONTAINERS, Namespace)) or hasattr(value, "__next__"):
            raise TooMuchError(f"a {type(value).__name__} can't be written: write its parts")
        value = str(value)
    context.environment.work(len(value))  # type: ignore[attr-defined]
    return value


def _check_numbers(name: str, given: Iterable[Any]) -> None:
    if any(isinstance(one, int) and one > _WIDEST for one in given):
        raise TooMuchError(f"the filter {name} is given a number over {_WIDEST}")


def _size_of_format(text: str, *_: Any, **__: Any) -> int:
    if re.search(r"\*|\d{4}", text):
        raise TooMuchError(f"a format has a * or a number over {_WIDEST - 1}")
    return len(text) + _WIDEST * text.count("%")


_GROWTH: dict[str, Callable[..., int]] = {
    "format": lambda size, text, *_, **__: size + _size_of_format(str(text)),
    "indent": lambda size, text, width=4, *_, **__: (
        len(str(text).splitlines()) * (width if isinstance(width, int) else len(width))
    ),
    "join": lambda size, values, between="", *_, **__: len(values) * len(str(between)),
    "replace": lambda size, text, old, new, *_: str(text).count(str(old)) * len(str(new)),
    "tojson": lambda size, value, indent=0, *_: size * (indent or 0),
}
"""What filters make more than they are given, by the size of that and by its parts."""


_MADE, _WRITTEN, _WORK = "(made)", "(written)", "(work)"
"""Names of filters that no template can write."""


class _Counted(NodeTransformer):
    """Puts filters that count into a template's syntax tree: at the head of what can be done more
    than once, and round what is made, joined or compared without a call."""

    def _body(self, node: Any) -> Any:
        work = _STEP
        for inner in node.find_all(nodes.Node):
            work += len(inner.data) if isinstance(inner, nodes.TemplateData) else _STEP
        self.generic_visit(node)
        line = node.lineno if isinstance(node, nodes.For) or not node.body else node.body[0].lineno
        count = _filtered(nodes.Const(work, lineno=line), _WORK)
        node.body.insert(0, nodes.ExprStmt(count, lineno=line))
        if isinstance(node, nodes.For) and node.test is not None:
            node.test = nodes.And(_filtered(count.node, _WORK), node.test, lineno=node.lineno)
        return node

    visit_Template = visit_Block = visit_Macro = visit_CallBlock = visit_For = _body  # noqa: N815

    def _made(self, node: nodes.Expr) -> nodes.Expr:
        return _filtered(self.generic_visit(node), _MADE)

    visit_List = visit_Dict = _made  # noqa: N815

    def visit_Tuple(self, node: nodes.Tuple) -> nodes.Node:  # noqa: N802
        return self._made(node) if node.ctx == "load" else self.generic_visit(node)

    def visit_Getitem(self, node: nodes.Getitem) -> nodes.Node:  # noqa: N802
        is_slice = isinstance(node.arg, nodes.Slice)
        return self._made(node) if is_slice else self.generic_visit(node)

    def visit_Concat(self, node: nodes.Concat) -> nodes.Node:  # noqa: N802
        self.generic_visit(node)
        node.nodes = [_filtered(part, _WRITTEN) for part in node.nodes]
        return node

    def visit_Compare(self, node: nodes.Compare) -> nodes.Node:  # noqa: N802
        self.generic_visit(node)
        sides: list[Any] = [node, *node.ops]
        for side in sides:
            if not isinstance(side.expr, nodes.Const):
                side.expr = _filtered(side.expr, _MADE)
        return node


def _filtered(node: Any, name: str) -> nodes.Filter:
    return nodes.Filter(node, name, [], [], None, None, lineno=node.lineno)


class _Reading(Extension):
    """Follows a template as it is read. `line`: where it was last; `long_line`: where the longest
    of its tags is."""

    def __init__(self, environment: Environment) -> None:
        super().__init__(environment)
        self.line = self.long_line = 1

    def filter_stream(self, stream: TokenStream) -> Iterator[Token]:
        longest = begun = 0
        for count, token in enumerate(stream):
            if count == _MOST_TOKENS:
                what = f"the template has over {_MOST_TOKENS:,} words and signs"
                raise TemplateSyntaxError(what, token.lineno, stream.name, stream.filename)
            if token.type == TOKEN_DATA:
                begun = count
            elif count - begun > longest:
                longest, self.long_line = count - begun, token.lineno
            self.line = token.lineno
            yield token


def _too_deep(line: int, name: str | None) -> TemplateSyntaxError:
    return TemplateSyntaxError("this is nested too deeply, or too long", line, name, name)


def _template_line(code: str, line: int) -> int:
    """The line of a template that a line of its compiled code comes from."""
    told = re.search(r"^debug_info = '([^']*)'", code, re.MULTILINE)
    pairs = [pair.split("=") for pair in told[1].split("&")] if told and told[1] else []
    return max((int(own) for own, compiled in pairs if int(compiled) <= line), default=1)
