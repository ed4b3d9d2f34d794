"""One type for colour: sRGB in and out, with contrast, difference and how eyes differ."""

from __future__ import annotations

import math
import re
from typing import Literal, NamedTuple

from publisher.frozen import frozen

Light = tuple[float, float, float]
Eye = Literal["protan", "deutan", "tritan"]
"""Without the cones for long, middle or short waves."""

_HEX = re.compile(r"#([0-9a-fA-F]{6})\Z")


class Lab(NamedTuple):
    """CIE 1976 L*a*b*, white point D65, 2° observer."""

    lightness: float
    a: float
    b: float


@frozen(order=True)
class Colour:
    """An sRGB colour, each channel 0 to 255 (IEC 61966-2-1)."""

    red: int
    green: int
    blue: int

    @classmethod
    def from_hex(cls, text: str) -> Colour:
        """Read `#rrggbb`; ValueError otherwise."""
        match = _HEX.match(text)
        if not match:
            raise ValueError(f"{text!r} is not a colour like #1f2a44")
        number = int(match[1], 16)
        return cls(number >> 16, number >> 8 & 255, number & 255)

    @property
    def hex(self) -> str:
        return f"#{self.red:02x}{self.green:02x}{self.blue:02x}"

    @property
    def linear(self) -> Light:
        """Linear-light RGB, 0 to 1 (the sRGB transfer function)."""
        return _linear(self.red), _linear(self.green), _linear(self.blue)

    @property
    def luminance(self) -> float:
        """Relative luminance, 0 to 1 (WCAG 2.1)."""
        red, green, blue = self.linear
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    @property
    def lab(self) -> Lab:
        """CIE L*a*b* (D65)."""
        return _lab(self.linear)

    def lab_seen_by(self, eye: Eye) -> Lab:
        """L*a*b* of what an eye without one kind of cone sees, not rounded to sRGB."""
        return _lab(_seen(self.linear, eye))

    def mix(self, other: Colour, share: float) -> Colour:
        """This colour with `share` (0 to 1) of the other in it, channel by channel."""

        def channel(mine: int, theirs: int) -> int:
            return round(mine + (theirs - mine) * share)

        return Colour(
            channel(self.red, other.red),
            channel(self.green, other.green),
            channel(self.blue, other.blue),
        )

    def __str__(self) -> str:
        return self.hex


WHITE = Colour(255, 255, 255)
BLACK = Colour(0, 0, 0)


def _linear(channel: int) -> float:
    value = channel / 255
    return value / 12.92 if value <= 0.04045 else float(((value + 0.055) / 1.055) ** 2.4)


def contrast(one: Colour, other: Colour) -> float:
    """Contrast ratio, 1 to 21 (WCAG 2.1, definition of contrast ratio)."""
    dark, light = sorted((one.luminance, other.luminance))
    return (light + 0.05) / (dark + 0.05)


_MACHADO: dict[Eye, tuple[Light, ...]] = {
    "protan": (
        (0.152286, 1.052583, -0.204868),
        (0.114503, 0.786281, 0.099216),
        (-0.003882, -0.048116, 1.051998),
    ),
    "deutan": (
        (0.367322, 0.860646, -0.227968),
        (0.280085, 0.672501, 0.047413),
        (-0.011820, 0.042940, 0.968881),
    ),
    "tritan": (
        (1.255528, -0.076749, -0.178779),
        (-0.078411, 0.930809, 0.147602),
        (0.004733, 0.691367, 0.303900),
    ),
}


def _seen(linear: Light, eye: Eye) -> Light:
    """Machado, Oliveira and Fernandes (2009), severity 1, on linear light, cut off to 0 … 1."""
    red, green, blue = linear
    x, y, z = (min(max(r * red + g * green + b * blue, 0.0), 1.0) for r, g, b in _MACHADO[eye])
    return x, y, z


def _lab(linear: Light) -> Lab:
    fx, fy, fz = (_lab_root(value) for value in _xyz(linear))
    return Lab(116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz))


def _xyz(linear: Light) -> Light:
    """Tristimulus values over those of white (IEC 61966-2-1; D65 0.95047, 1, 1.08883)."""
    red, green, blue = linear
    return (
        (0.4124564 * red + 0.3575761 * green + 0.1804375 * blue) / 0.95047,
        0.2126729 * red + 0.7151522 * green + 0.0721750 * blue,
        (0.0193339 * red + 0.1191920 * green + 0.9503041 * blue) / 1.08883,
    )


def _lab_root(value: float) -> float:
    """The function f of CIE 15, with its straight foot."""
    return value ** (1 / 3) if value > 216 / 24389 else (24389 / 27 * value + 16) / 116


def difference(one: Lab, other: Lab) -> float:
    """CIEDE2000, all three factors 1; about 1 is just seen, 2.3 and up at a glance.

    After Sharma, Wu and Dalal (2005), whose numbers of the equations stand below.
    """
    chroma = (math.hypot(one.a, one.b) + math.hypot(other.a, other.b)) / 2
    grey = 0.5 * (1 - _share_of_seventh_power(chroma))  # 4
    a1, a2 = (1 + grey) * one.a, (1 + grey) * other.a  # 5
    c1, c2 = math.hypot(a1, one.b), math.hypot(a2, other.b)  # 6
    h1, h2 = _hue(a1, one.b), _hue(a2, other.b)  # 7
    turn = _turn(h1, h2) if c1 * c2 else 0.0  # 10
    d_light, d_chroma = other.lightness - one.lightness, c2 - c1  # 8, 9
    d_hue = 2 * math.sqrt(c1 * c2) * _sin(turn / 2)  # 11
    light, chroma = (one.lightness + other.lightness) / 2, (c1 + c2) / 2  # 12, 13
    hue = _mean_hue(h1, h2) if c1 * c2 else h1 + h2  # 14
    t = (  # 15
        1
        - 0.17 * _cos(hue - 30)
        + 0.24 * _cos(2 * hue)
        + 0.32 * _cos(3 * hue + 6)
        - 0.20 * _cos(4 * hue - 63)
    )
    bend = 30 * math.exp(-(((hue - 275) / 25) ** 2))  # 16
    off = (light - 50) ** 2
    light_part = d_light / (1 + 0.015 * off / math.sqrt(20 + off))  # 18
    chroma_part = d_chroma / (1 + 0.045 * chroma)  # 19
    hue_part = d_hue / (1 + 0.015 * chroma * t)  # 20
    twist = -_sin(2 * bend) * 2 * _share_of_seventh_power(chroma)  # 17, 21
    return math.sqrt(  # 22
        light_part**2 + chroma_part**2 + hue_part**2 + twist * chroma_part * hue_part
    )


def _share_of_seventh_power(chroma: float) -> float:
    return math.sqrt(chroma**7 / (chroma**7 + 25.0**7))


def _hue(a: float, b: float) -> float:
    """The hue's angle in degrees, 0 to 360; 0 where there is none."""
    return math.degrees(math.atan2(b, a)) % 360 if a or b else 0.0


def _turn(h1: float, h2: float) -> float:
    """From one hue to the other the short way round."""
    turn = h2 - h1
    if turn > 180:
        return turn - 360
    return turn + 360 if turn < -180 else turn


def _mean_hue(h1: float, h2: float) -> float:
    """Half way between two hues, on the short way round."""
    total = h1 + h2
    if abs(h1 - h2) <= 180:
        return total / 2
    return (total + 360) / 2 if total < 360 else (total - 360) / 2


def _sin(degrees: float) -> float:
    return math.sin(math.radians(degrees))


def _cos(degrees: float) -> float:
    return math.cos(math.radians(degrees))
