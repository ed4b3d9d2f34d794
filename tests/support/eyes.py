"""What eyes without one kind of cone make of two colours that lie on each other."""

from __future__ import annotations

from publisher.model.colour import Colour, Eye


def luminance_seen(colour: Colour, eye: Eye) -> float:
    """Relative luminance of what an eye sees of a colour, from its CIE lightness (ISO 11664-4)."""
    lightness = colour.lab_seen_by(eye).lightness
    return ((lightness + 16) / 116) ** 3 if lightness > 8 else lightness * (3 / 29) ** 3


def contrast_seen(one: Colour, other: Colour, eye: Eye) -> float:
    """The contrast ratio (WCAG 2.1) of two colours as an eye sees them."""
    dark, light = sorted((luminance_seen(one, eye), luminance_seen(other, eye)))
    return (light + 0.05) / (dark + 0.05)
