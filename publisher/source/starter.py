"""Write a starter pattern, explained line by line, that builds as it is."""

from __future__ import annotations

from publisher.knots.defaults import defaults


def starter_pattern(slug: str) -> str:
    """The text of a new pattern file, with a title made from its slug (a valid one)."""
    mount = defaults().mount
    title = slug.replace("-", " ").capitalize()
    return _STARTER.replace("TITLE", title, 1).replace("SLUG", slug).replace("MOUNT", mount)


_STARTER = """\
# This file is a whole pattern. A line that begins with # is a note to you: it is never printed.
# Every other line says `name = value`. Words stand in "straight quotes", numbers without any.
# Change one thing, save, and type    publisher build SLUG
# If something is wrong, you are told the line it is on and what to do. You can't break anything.

format = 1                # how this file is written: leave it at 1
title = "TITLE"
version = "0.1"           # raise it each time you hand the pattern out
subtitle = "A small boat on calm water"
level = "first panel"
about = '''
What you would tell a maker about this piece. Write as much as you like.

An empty line begins a new paragraph.
'''
# designer = "Your name"  # take the first # away to use a line; better once, in house.toml
# currency = "GBP"        # of the yarns' prices
# prices = true           # prints what everything costs under the shopping list,
# prices_as_of = 2026-09-01    # and the month that the prices are of


# The colours. Each has a letter, N for example, and that letter is one knot in the chart below.
# To add a colour, copy four lines and give the copy a letter of its own.

[colours.S]
name = "evening sky"      # what makers read in the key and in the lists
srgb = "#f1dfc0"          # the colour on screen and paper, from any colour picker
yarn = "cotton"           # which yarn it is: one from [yarns] below, or from house.toml

[colours.R]
name = "sail red"
srgb = "#b9482f"
yarn = "cotton"

[colours.N]
name = "night navy"
srgb = "#1f2a44"
yarn = "cotton"

[colours.W]
name = "river blue"
srgb = "#4f8fa3"
yarn = "cotton"


# The yarn. Measure your own: wind it ten times round a pencil, side by side, and divide the
# width by ten; weigh ten metres, and divide the grams by ten.

[yarns.cotton]
name = "3 mm soft cotton"
diameter_mm = 3.0
grams_per_metre = 4.5
ball_metres = 100         # how much is on one ball, so that balls can be counted
# price = 6.50            # what a ball costs; it needs the currency that is at the top


# The piece. The chart is the picture: a line for each row, from the top, and a letter for each
# knot. All lines are equally long. Type other letters over these, and the picture changes.

[[pieces]]
id = "panel"
chart = '''
SSSSSSSSSSSSSSSS
SSSSSSSSSSSSSSSS
SSSSSSSNSSSSSSSS
SSSSSSSNRSSSSSSS
SSSSSSSNRRSSSSSS
SSSSSSSNRRSSSSSS
SSSSSSRNRRRSSSSS
SSSSSSRNRRRSSSSS
SSSSSRRNRRRRSSSS
SSSSSRRNRRRRSSSS
SSSSRRRNRRRRRSSS
SSSSRRRNRRRRRSSS
SSSSSSSNSSSSSSSS
SSNNNNNNNNNNNSSS
WWWNNNNNNNNNWWWW
WWWWNNNNNNNWWWWW
WWWWWWWWWWWWWWWW
WWWWWSSSSSSSWWWW
WWWWWWWWWWWWWWWW
WWWWWWWWWWWWWWWW
'''
first_row_from = "left"   # the side that row 1 starts from: "left" or "right"
order = "zigzag"          # there and back in turn; "one-way": each row from the same side
cords = { colour = "S", strands = 2 }    # the cords that hang from the dowel
mount = { knot = "MOUNT", on = "dowel", diameter_mm = 12 }
fringe = { shape = "point", longest_mm = 120, shortest_mm = 60 }   # or "straight", or "arch"
working_length_mm = 3000  # how long you like to cut a yarn
tail_mm = 100             # what you leave hanging at each start and end
carry = { columns = 6, rows = 2 }        # the furthest a yarn may go behind the cords

# Sizes and lengths are worked out from the yarn's thickness. They are truer when you have
# knotted a swatch, 20 by 20 knots, say. Put its measures here, and take the # away:
# gauge = { columns = 20, width_mm = 220, rows = 20, height_mm = 160, yarn_mm_per_knot = 66 }
"""
