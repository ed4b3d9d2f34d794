"""Choose the colours of a knot drawing's cords from the look of the book."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache

from publisher.drawing.knot.pen import CordColours
from publisher.drawing.knot.scene import PicturedCord
from publisher.model.colour import BLACK, WHITE, Colour, contrast
from publisher.model.look import Look

BODIES: Mapping[str, Colour] = {
    "working": Colour.from_hex("#b24a22"),
    "second": Colour.from_hex("#2f6f8f"),
    "filler": Colour.from_hex("#d8cbb0"),
    "leader": Colour.from_hex("#c9b98e"),
    "dowel": Colour.from_hex("#c39a63"),
    "guide": Colour.from_hex("#22282c"),
}
MONO_BODIES: Mapping[str, Colour] = {
    "working": Colour.from_hex("#6b6b6b"),
    "second": Colour.from_hex("#a8a8a8"),
    "filler": Colour.from_hex("#f4f4f4"),
    "leader": Colour.from_hex("#e2e2e2"),
    "dowel": Colour.from_hex("#d0d0d0"),
    "guide": Colour.from_hex("#000000"),
}
FADING = ("working", "second")
"""Cords whose earlier parts are drawn quietly; the others are quiet all the time."""
FADE = 0.55
"""How much of the ground is in what is quiet."""
DARK = 0.42
"""How much black is in an arrow head, at least."""
READABLE = 4.5
"""Contrast of arrow heads and letters with the ground (WCAG 2.1, 1.4.3)."""
_HEAVY, _MIDDLE = 0.75, 0.4
"""Of ink in a grey: from which a cord in line has a dark lay, and a heavy outline."""
_PALE = 0.45
"""Of the ground in a pale outline, which keeps 3 to 1 (WCAG 2.1, 1.4.11)."""
DEEP = 0.05
"""Luminance of a cord so dark that its lay is drawn in light."""


def cord_colours(
    look: Look, chosen: Mapping[str, Colour]
) -> Callable[[PicturedCord, bool], CordColours]:
    """Colours by cord and by whether it is quiet. `chosen`: bodies by role, for a look in colour.

    A look may name them too: knot-working, knot-second, knot-filler, knot-leader, knot-dowel.
    """
    ground = look.colours["figure"]
    bodies = dict(MONO_BODIES if look.mono else BODIES)
    if not look.mono:
        named = {role: look.colours.get(f"knot-{role}") for role in bodies}
        bodies |= {role: colour for role, colour in named.items() if colour} | dict(chosen)

    @cache
    def colours(role: str, quiet: bool) -> CordColours:
        body = bodies[role]
        fade = ground if quiet and role in FADING else None
        if look.mono:
            return lines(body, fade, look, plied=role != "dowel")
        return shades(body, fade, _dark(body, ground), plied=role != "dowel")

    return lambda drawn, quiet: colours(drawn.role, quiet)


def _dark(body: Colour, ground: Colour) -> Colour:
    """A dark shade of a cord that arrows and letters can have on the ground."""
    share = DARK
    while share < 1 and contrast(body.mix(BLACK, share), ground) < READABLE:
        share += 0.05
    return body.mix(BLACK, min(share, 1))


def lines(body: Colour, fade: Colour | None, look: Look, plied: bool) -> CordColours:
    """A cord in line, for a look without colour: white, its outline the heavier and its lay the
    closer to ink the darker `body` is; mixed with `fade` they are quiet."""
    ink, paper = look.colours["ink"], look.colours["figure"]
    weight = 1 - body.luminance
    edge = ink.mix(paper, 0.0 if weight > _MIDDLE else _PALE)
    lay = ink.mix(paper, 0.2 if weight > _HEAVY else 0.7) if plied else None
    if _MIDDLE < weight <= _HEAVY:
        lay = None
    if fade is not None:
        edge, lay = ink.mix(fade, _PALE), lay.mix(fade, FADE) if lay else None
    shade = edge if weight > _MIDDLE else paper
    return CordColours((edge, shade, paper, paper), lay, ink, quiet=fade is not None)


def shades(body: Colour, fade: Colour | None, mark: Colour, plied: bool) -> CordColours:
    """A cord's shades; mixed with `fade` they are quiet. `mark` is for its arrows and letters."""
    edge, shade, light = body.mix(BLACK, 0.5), body.mix(BLACK, 0.18), body.mix(WHITE, 0.32)
    lay = body.mix(BLACK, 0.28) if body.luminance > DEEP else body.mix(WHITE, 0.3)
    if fade is not None:
        edge, shade, body, light, lay = (
            colour.mix(fade, FADE) for colour in (edge, shade, body, light, lay)
        )
    return CordColours(
        (edge, shade, body, light), lay if plied else None, mark, quiet=fade is not None
    )
