"""Turn TOML text into a plain table, or say in plain words why it can't be read."""

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
        reason = str(error)
    except RecursionError:
        place = Place(file)
        raise SourceError(
            Problem(place, "brackets in brackets go too deep", "close them")
        ) from None
    found = _AT.search(reason)
    line = int(found[1]) if found and found[1] else text.count("\n") + 1
    raise SourceError(Problem(Place(file, line), _AT.sub("", reason), "look at this line"))
