"""Choose the colours of a knot drawing's cords from the look of the book."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache

from publisher.colour import BLACK, WHITE, Colour
from publisher.drawing.knot_scene import Drawn
from publisher.drawing.look import Look
from publisher.drawing.pen import CordColours

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


def cord_colours(look: Look, chosen: Mapping[str, Colour]) -> Callable[[Drawn, bool], CordColours]:
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
        fade = ground if quiet and role in ("working", "second") else None
        return _shades(body, fade, plied=role != "dowel")

    return lambda drawn, quiet: colours(drawn.role, quiet)


def _shades(body: Colour, fade: Colour | None, plied: bool) -> CordColours:
    edge, shade = body.mix(BLACK, 0.5), body.mix(BLACK, 0.18)
    light, lay = body.mix(WHITE, 0.32), body.mix(BLACK, 0.28)
    if fade is not None:
        edge, shade, body, light, lay = (
            colour.mix(fade, 0.55) for colour in (edge, shade, body, light, lay)
        )
    return CordColours(
        (edge, shade, body, light), lay if plied else None, body.mix(BLACK, 0.42), fade is not None
    )
