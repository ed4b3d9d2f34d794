"""Mark what templates write with the line that wrote it, and read the marks again.

Pages are only drawn so to find out where a mistake comes from.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence

from jinja2 import Environment
from jinja2.ext import Extension
from jinja2.lexer import TOKEN_DATA, Token, TokenStream

from publisher.errors import Place
from publisher.model.book import Origin

_BEGIN, _END = "\ue000", "\ue001"
"""Characters for private use, which no font of the house has."""
_MARK = re.compile(f"{_BEGIN}(\\d+){_END}")


class Marking(Extension):
    """Puts a mark before all that a template writes by itself, on each of its lines."""

    def __init__(self, environment: Environment) -> None:
        super().__init__(environment)
        self.lines: list[tuple[str, int]] = []
        """The template and line of each mark."""

    def filter_stream(self, stream: TokenStream) -> Iterable[Token]:
        for token in stream:
            if token.type == TOKEN_DATA:
                text = "\n".join(self._marked(stream.name or "", token))
                yield Token(token.lineno, token.type, text)
            else:
                yield token

    def _marked(self, name: str, token: Token) -> Iterator[str]:
        for line, text in enumerate(str(token.value).split("\n"), token.lineno):
            yield f"{_BEGIN}{len(self.lines)}{_END}{text}"
            self.lines.append((name, line))


def read_marks(
    text: str, lines: Sequence[tuple[Place | None, str]]
) -> tuple[str, tuple[Origin, ...]]:
    """A text without its marks, and where what stands from a byte of it on comes from. `lines`:
    those of all marks, with what is written there."""
    parts = _MARK.split(text)
    words, marks = parts[::2], parts[1::2]
    origins, at = [], len(words[0].encode("utf-8", "surrogatepass"))
    for mark, part in zip(marks, words[1:], strict=True):
        origins.append(Origin(at, *lines[int(mark)]))
        at += len(part.encode("utf-8", "surrogatepass"))
    return "".join(words), tuple(origins)
