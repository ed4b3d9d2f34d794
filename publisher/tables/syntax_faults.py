"""Say in plain words why a line of TOML can't be read, from the line itself."""

from __future__ import annotations

import re
from collections.abc import Callable

from publisher.frozen import frozen
from publisher.tables.words import in_unit_of

_PAIR = re.compile(r"\s*([^=\"'\[{#]+?)\s*=\s*(.*?)\s*\Z")
_NEXT_KEY = re.compile(r"^[ \t]*(?:[a-z_]+[ \t]*=|\[\[?[a-z]+[\].])", re.MULTILINE)
_UNSEEN = re.compile("[\x00-\x08\x0b-\x1f\x7f\xa0\u200b-\u200f\u2028-\u202f\u2060\ufeff]")
_TRIPLE = re.compile(r'"""|\'\'\'')
_CURLY = str.maketrans("“”„‟«»‘’‚‛", '""""""' + "''''")


@frozen
class SyntaxFault:
    """A fault in a line, and what to do."""

    line: int
    message: str
    hint: str


def explain(reason: str, text: str, line: int | None) -> SyntaxFault:
    """`reason`: the parser's own; `line`: where it stopped, from 1; None: at the end."""
    open_text = _open_text(text, line)
    if open_text is not None:
        return SyntaxFault(open_text, _NEVER_ENDS, _END_TEXT)
    lines = text.split("\n")
    number = line or max(1, len(text.rstrip().split("\n")))
    shown = lines[number - 1]
    if reason.startswith(("Cannot overwrite", "Cannot declare", "Cannot mutate")):
        message, hint = _twice(shown, lines[: number - 1])
    elif "hex value" in reason or "'\\'" in reason or "Unicode scalar" in reason:
        message, hint = _BACKSLASH, _NO_BACKSLASH
    elif _UNSEEN.search(shown):
        message, hint = "an invisible sign stands in this line", _RETYPE
    else:
        message, hint = _explain_line(shown)
    return SyntaxFault(number, message, hint)


def _open_text(text: str, stopped: int | None) -> int | None:
    """The line of three quotes without their partner, if that is what stopped the reading."""
    suspect = None
    bare = _without_comments(text)
    mark = _TRIPLE.search(bare)
    while mark:
        end = bare.find(mark[0], mark.end())
        if end < 0:
            line = _line_of(text, mark.start())
            return suspect or (line if stopped is None or stopped >= line else None)
        if suspect is None and _NEXT_KEY.search(bare, mark.end(), end):
            suspect = _line_of(text, mark.start())
        mark = _TRIPLE.search(bare, end + 3)
    return None


def _without_comments(text: str) -> str:
    return re.sub(r"^[ \t]*#.*", lambda comment: " " * len(comment[0]), text, flags=re.MULTILINE)


def _line_of(text: str, at: int) -> int:
    return text.count("\n", 0, at) + 1


def _twice(shown: str, above: list[str]) -> tuple[str, str]:
    """A table or a key that was there before."""
    head = shown.split("#")[0].strip()
    if head.startswith("["):
        return _heading_twice(head, above)
    pair = _PAIR.match(shown)
    name = pair[1] if pair else head
    for number, line in reversed(list(enumerate(above, 1))):
        if re.match(rf"\s*{re.escape(name)}\s*=", line):
            message = f"`{name}` is here for the second time; the first is on line {number}"
            return message, "keep one of the two lines"
        if line.lstrip().startswith("["):
            break
    return f"`{name}` says anew what stands above already", "keep one of the two"


def _heading_twice(head: str, above: list[str]) -> tuple[str, str]:
    name = head.strip("[] ")
    for number, line in enumerate(above, 1):
        other = line.split("#")[0].strip()
        if not other.startswith("[") or other.strip("[] ") != name:
            continue
        if other == head:
            message = f"{head} is here for the second time; the first is on line {number}"
            return message, "put the two together, or give this one another name"
        return f"{head} stands here, but {other} on line {number}", _SAME
    return f"{head} says anew what stands above already", "keep one of the two"


def _explain_line(shown: str) -> tuple[str, str]:
    line = shown.strip()
    if line.startswith("["):
        return _explain_heading(line)
    pair = _PAIR.match(shown)
    if pair is None or line.startswith(("//", "<", ";", "--")):
        return _explain_stray(line)
    name, value = pair[1], pair[2]
    if not re.fullmatch(r"[A-Za-z0-9_-]+(\.[A-Za-z0-9_-]+)*", name):
        plain = re.sub(r"\W+", "_", name, flags=re.ASCII).strip("_")
        hint = f"write it with letters and _ only, such as {plain}" if plain else _PLAIN_KEY
        return f"`{name}` can't stand before =", hint
    for matches, say in _VALUES:
        if re.match(matches, value):
            return say(name, value)
    return f"what stands after `{name} =` can't be read", "look at it again, sign by sign"


def _explain_heading(line: str) -> tuple[str, str]:
    closed = line.split("#")[0].rstrip()
    more = re.fullmatch(r"(\[+[^\]\s]+\]+)\s*(\w.*)", closed)
    if more:
        return f"more stands on this line after {more[1]}", f"begin a new line with {more[2]}"
    inner = closed.strip("[] ")
    letter = re.fullmatch(r"colours\.(\S)", line.strip("[] "))
    if letter and not re.fullmatch(r"[A-Za-z0-9_-]", letter[1]):
        quoted = f'"{letter[1]}"' if letter[1] == "'" else f"'{letter[1]}'"
        return (
            f"the letter {letter[1]} can't stand in a heading as it is",
            f"put it in quotes: [colours.{quoted}]",
        )
    if not inner:
        return "this heading is empty", "write a name between the brackets, such as [colours.N]"
    double = closed.startswith("[[")
    right = f"[[{inner}]]" if double else f"[{inner}]"
    if " " in inner:
        return (
            "there is a blank in this heading",
            f"write it with points: {right.replace(' ', '.')}",
        )
    if not closed.endswith("]]" if double else "]"):
        return "the brackets of this heading are not closed", f"write {right}"
    return "this heading can't be read", "write it like [colours.N], or [[pieces]]"


def _explain_stray(line: str) -> tuple[str, str]:
    colon = re.match(r"([A-Za-z_]+)\s*:\s*(.+)", line)
    if colon and not line.startswith("//"):
        return f"`{colon[1]}` has a colon after it", f"write = instead: {colon[1]} = {colon[2]}"
    if re.match(r"//|--|<|;", line):
        return "this line is no key, heading or comment", "begin a comment with #"
    return (
        "this line is not of the form key = value",
        'is a """ missing above it, an = in it, or a # in front of it?',
    )


def _straighten(name: str, value: str) -> tuple[str, str]:
    straight = value.translate(_CURLY)
    return "these quotes are curly ones", f"use straight quotes: {name} = {straight}"


def _quote(name: str, value: str) -> tuple[str, str]:
    words = value.strip("\"'")
    return f"the text after `{name} =` must stand in quotes", f'write {name} = "{words}"'


def _unquoted_end(name: str, value: str) -> tuple[str, str]:
    end = value[0]
    return f"the text of `{name}` has no quote at its end", f"end it with {end}"


def _more_text(name: str, value: str) -> tuple[str, str]:
    quote = value[0]
    return (
        f"the text of `{name}` ends at its second {quote}, and more follows",
        "inside a text, use curly quotes “ ” or an apostrophe ’",
    )


def _number_alone(name: str, value: str) -> tuple[str, str]:
    message = f"`{name}` has more than a number after it"
    converted = in_unit_of(name, value)
    if converted is not None:
        return message, f"write {name} = {converted}"
    (number,) = re.findall(r"\A[-+]?[\d.]+", value)
    return message, f"write it alone: {name} = {number}"


_VALUES: tuple[tuple[str, Callable[[str, str], tuple[str, str]]], ...] = (
    (r"\Z|#", lambda n, v: (f"nothing stands after `{n} =`", "write its value, or drop the line")),
    (r"[“”„‟«»‘’‚‛]", _straighten),
    (r"(?i:true|false)\b", lambda n, v: (f"`{n}` can't be {v}", f"write {n} = {v.lower()}")),
    (
        r"\d{1,4}[-./]\d{1,2}([-./]\d{1,4})",
        lambda n, v: (f"{v} is not a date", f"write year-month-day, such as {n} = 2026-09-01"),
    ),
    (
        r"[-+]?\d+,\d+\s*(#|\Z)",
        lambda n, v: (f"`{n}` has a decimal comma", f"use a point: {n} = {v.replace(',', '.')}"),
    ),
    (
        r"[-+]?0\d+\s*(#|\Z)",
        lambda n, v: (f"`{n}` begins with 0", f"write {n} = {v.lstrip('+-0') or 0}"),
    ),
    (r"[-+]?\d[\d.]*[;,]\s*\Z", lambda n, v: (_TAIL, f"write {n} = {v[:-1]}")),
    (r"[-+]?\d", _number_alone),
    (r"[–—−]\s*\d", lambda n, v: ("this minus is a dash", f"use the minus: {n} = -{v[1:]}")),
    (r"[{]", lambda n, v: (f"the {{ }} after `{n} =` can't be read", _INLINE)),
    (r"\[", lambda n, v: (f"the [ ] after `{n} =` can't be read", "end the list with ]")),
    (r"\"[^\"]*\"\s*[;,]\s*\Z", lambda n, v: (_TAIL, f"write {n} = {v[:-1].rstrip()}")),
    (r"\"[^\"]*\Z|'[^']*\Z", _unquoted_end),
    (r"\"[^\"]*\"|'[^']*'", _more_text),
    (r"[^\W\d_]", _quote),
)

_NEVER_ENDS = "the text that begins here with three quotes never ends"
_END_TEXT = "put the three quotes again on a line of their own below its last line"
_BACKSLASH = "the backslash \\ begins a special sign inside double quotes"
_NO_BACKSLASH = "use three single quotes ''' round a chart that has it, and / in a file's name"
_RETYPE = "delete the line and type it again"
_SAME = "use the same brackets each time: [[pieces]] for pieces, [colours.N] for colours"
_PLAIN_KEY = "write it with plain letters and _ only"
_TAIL = "this line has one sign too many at its end"
_INLINE = "keep all of it on one line, like { columns = 6, rows = 2 }"
