"""Write a new pattern file round a chart made from a picture, explained line by line."""

from __future__ import annotations

from collections.abc import Sequence

from publisher.knots.defaults import defaults
from publisher.model.pattern import CarryLimit, YarnColour


def charted_pattern(
    slug: str,
    colours: Sequence[YarnColour],
    rows: Sequence[str],
    *,
    own_yarn: bool,
    own_names: bool,
) -> str:
    """The text of the file, which builds as it is.

    `own_yarn`: it describes the first colour's yarn itself; without, all yarns stand in
    house.toml. `own_names`: the colours' names are the writer's, and not just descriptions.
    """
    yarn = colours[0].yarn
    return _TEXT.format(
        slug=slug,
        title=slug.replace("-", " ").capitalize(),
        names="" if own_names else _NAMES,
        colours="\n".join(colour_table(colour) for colour in colours),
        yarn=_YARN.format(yarn=yarn) if own_yarn else "",
        chart=chart_text(rows),
        cord=quoted(colours[0].letter),
        hang=_HANG.replace("MOUNT", defaults().mount) if own_yarn else "",
    )


def colour_table(colour: YarnColour) -> str:
    """A colour as it stands in a file."""
    lines = [
        f"[colours.{quoted_letter(colour.letter)}]",
        f"name = {quoted(colour.name)}",
        f'srgb = "{colour.srgb.hex}"',
        f"yarn = {quoted(colour.yarn.key)}",
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
    return quoted(letter)


def quoted(text: str) -> str:
    """A text in double quotes. It holds no control characters: it was read from such a file."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def _carry(limit: CarryLimit) -> str:
    if limit.along_row:
        return '"row"'
    return f"{{ columns = {limit.columns}, rows = {limit.rows} }}"


_NAMES = """\
# Their names are only descriptions: give them those that your makers should read.
"""
_YARN = """

# The yarn. Measure your own: wind it ten times round a pencil, side by side, and divide the
# width by ten; weigh ten metres, and divide the grams by ten.

[yarns.{yarn.key}]
name = "{yarn.name}"
diameter_mm = {yarn.diameter_mm}
grams_per_metre = {yarn.grams_per_metre}
"""
_HANG = """\
mount = { knot = "MOUNT", on = "dowel", diameter_mm = 12 }
carry = { columns = 6, rows = 2 }        # the furthest a yarn may go behind the cords
"""
_TEXT = """\
# This pattern was begun from a picture. A line that begins with # is a note to you: it is never
# printed. Every other line says `name = value`. Change what you like, save, and type
#     publisher build {slug}

format = 1                # how this file is written: leave it at 1
title = "{title}"
version = "0.1"           # raise it each time you hand the pattern out
subtitle = ""
level = ""                # who can knot it
about = '''
What you would tell a maker about this piece. Write as much as you like.
'''


# The colours, the most used first. The letter of each is one knot in the chart below.
{names}
{colours}{yarn}

# The piece. The chart is the picture: a line for each row, from the top, and a letter for each
# knot. All lines are equally long. Type other letters over these, and the picture changes.

[[pieces]]
id = "panel"
chart = {chart}
first_row_from = "left"   # the side that row 1 starts from: "left" or "right"
order = "zigzag"          # there and back in turn; "one-way": each row from the same side
cords = {{ colour = {cord}, strands = 2 }}    # the cords that hang from the dowel
fringe = {{ shape = "straight", longest_mm = 120, shortest_mm = 120 }}   # or "point", or "arch"
{hang}working_length_mm = 3000  # how long you like to cut a yarn
tail_mm = 100             # what you leave hanging at each start and end

# Sizes and lengths are worked out from the yarn's thickness. They are truer when you have
# knotted a swatch, 20 by 20 knots, say. Put its measures here, take the # away, and make the
# chart anew, so that the picture keeps its proportion:
# gauge = {{ columns = 20, width_mm = 220, rows = 20, height_mm = 160, yarn_mm_per_knot = 66 }}
"""
