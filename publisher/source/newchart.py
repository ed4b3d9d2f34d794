"""Write a new pattern file round a chart made from a picture, explained line by line."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.source.pattern import CarryLimit, YarnColour


def charted_pattern(
    slug: str, colours: Sequence[YarnColour], rows: Sequence[str], *, own_yarn: bool
) -> str:
    """The text of the file, which builds as it is. `own_yarn`: it describes the first colour's
    yarn itself; without, all yarns stand in house.toml."""
    title = slug.replace("-", " ").capitalize()
    yarn = colours[0].yarn
    tables = "\n".join(colour_table(colour) for colour in colours)
    own = _YARN.format(key=yarn.key, name=yarn.name, d=yarn.diameter_mm, g=yarn.grams_per_metre)
    text = _TEXT.replace("TITLE", title, 1).replace("SLUG", slug)
    text = text.replace("YARN\n", own if own_yarn else "").replace("CORD", colours[0].letter)
    text = text.replace("HANG\n", _HANG if own_yarn else "")
    return text.replace("COLOURS\n", tables).replace("CHART", chart_text(rows))


def colour_table(colour: YarnColour) -> str:
    """A colour as it stands in a file."""
    lines = [
        f"[colours.{quoted_letter(colour.letter)}]",
        f"name = {_quoted(colour.name)}",
        f'srgb = "{colour.srgb.hex}"',
        f"yarn = {_quoted(colour.yarn.key)}",
    ]
    if colour.carry:
        lines.append(f"carry = {_carry(colour.carry)}")
    return "".join(f"{line}\n" for line in lines)


def chart_text(rows: Sequence[str]) -> str:
    """A chart as the value of its key."""
    marks = "'''" if any(sign in row for row in rows for sign in '"\\') else '"""'
    return "\n".join((marks, *rows, marks))


def quoted_letter(letter: str) -> str:
    """A letter as it stands in a table's name."""
    if letter.isascii() and letter.isalnum():
        return letter
    return _quoted(letter)


def _quoted(text: str) -> str:
    """A text in double quotes. It holds no control characters: it was read from such a file."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def _carry(limit: CarryLimit) -> str:
    if limit.columns is None:
        return '"row"'
    return f"{{ columns = {limit.columns}, rows = {limit.rows} }}"


_YARN = """

# The yarn. Measure your own: wind it ten times round a pencil, side by side, and divide the
# width by ten; weigh ten metres, and divide the grams by ten.

[yarns.{key}]
name = "{name}"
diameter_mm = {d}
grams_per_metre = {g}
"""
_HANG = """\
mount = { knot = "larks-head", on = "dowel", diameter_mm = 12 }
carry = { columns = 6, rows = 2 }        # the furthest a yarn may go behind the cords
"""
_TEXT = """\
# This pattern was begun from a picture. A line that begins with # is a note to you: it is never
# printed. Every other line says `name = value`. Change what you like, save, and type
#     publisher build SLUG

format = 1                # how this file is written: leave it at 1
title = "TITLE"
version = "0.1"           # raise it each time you hand the pattern out
subtitle = ""
level = ""                # who can knot it
about = '''
What you would tell a maker about this piece. Write as much as you like.
'''


# The colours, the most used first. Each has a letter, and that letter is one knot in the chart
# below. Their names are only descriptions: give them those that your makers should read.

COLOURS
YARN

# The piece. The chart is the picture: a line for each row, from the top, and a letter for each
# knot. All lines are equally long. Type other letters over these, and the picture changes.

[[pieces]]
id = "panel"
chart = CHART
first_row_from = "left"   # the side that row 1 starts from: "left" or "right"
order = "zigzag"          # there and back in turn; "one-way": each row from the same side
cords = { colour = "CORD", strands = 2 }    # the cords that hang from the dowel
fringe = { shape = "straight", longest_mm = 120, shortest_mm = 120 }   # or "point", or "arch"
HANG
working_length_mm = 3050  # how long you like to cut a yarn
tail_mm = 100             # what you leave hanging at each start and end

# Sizes and lengths are worked out from the yarn's thickness. They are truer when you have
# knotted a swatch, 20 by 20 knots, say. Put its measures here, take the # away, and make the
# chart anew, so that the picture keeps its proportion:
# gauge = { columns = 20, width_mm = 220, rows = 20, height_mm = 160, yarn_mm_per_knot = 66 }
"""
