"""Turn TOML text into a plain table, or say where and why it can't be read."""

from __future__ import annotations

import re
import tomllib
from typing import Any

from publisher.errors import Place, Problem, SourceError

_AT = re.compile(r" \(at (?:line (\d+), column (\d+)|end of document)\)\Z")


def parse(text: str, file: str) -> dict[str, Any]:
    """The file's keys and values; SourceError with the one place where reading stopped."""
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        from publisher.tables.syntax_faults import explain

        reason = str(error)
        found = _AT.search(reason)
        line = int(found[1]) if found and found[1] else None
        said = explain(_AT.sub("", reason), text, line)
        problem = Problem(Place(file, said.line), said.message, said.hint)
    except RecursionError:
        message = "there are far too many brackets inside brackets"
        problem = Problem(Place(file), message, "take them out: no value here needs more than two")
    except ValueError:  # a number with more digits than Python reads
        problem = Problem(Place(file), "a number in this file is far too long", "shorten it")
    raise SourceError(problem)
