"""One type for colour: sRGB in and out, with luminance, contrast and mixing."""

from __future__ import annotations

import re
from dataclasses import dataclass

_HEX = re.compile(r"#([0-9a-fA-F]{6})\Z")


@dataclass(frozen=True, slots=True, order=True)
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
    def linear(self) -> tuple[float, float, float]:
        """Linear-light RGB, 0 to 1 (the sRGB transfer function)."""
        return _linear(self.red), _linear(self.green), _linear(self.blue)

    @property
    def luminance(self) -> float:
        """Relative luminance, 0 to 1 (WCAG 2.1)."""
        red, green, blue = self.linear
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

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
