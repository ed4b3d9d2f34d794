"""Knots of a writer's own, for tests: ours under another name, so that what they take is known."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path


def copied(of: str, cords_in: Sequence[str], cords_out: Sequence[str] = ()) -> str:
    """The file of a knot that is one of ours, and says how its cords come in and go out."""
    lines = ["format = 1", f'of = "{of}"', 'titles = ["weir knot"]', f"cords_in = {[*cords_in]}"]
    if cords_out:
        lines.append(f"cords_out = {[*cords_out]}")
    return "\n".join(lines) + "\n"


SQUARE = copied("square-knot", ("A", "F1", "F2", "B"))
HALF = copied("half-knot", ("A", "F1", "F2", "B"), ("B", "F1", "F2", "A"))


FOLDED = '[{ colour = "B", lay = "folded", count = 2 }]'


def write_pattern(folder: Path, steps: str, cords: str = FOLDED, **knots: str) -> Path:
    """A pattern of one part, with four ends on a ring if nothing else is said, beside knots
    (`weir_knot` is weir-knot)."""
    (folder / "knots").mkdir(parents=True, exist_ok=True)
    for name, text in knots.items():
        (folder / "knots" / f"{name.replace('_', '-')}.toml").write_text(text, "utf-8")
    path = folder / "weir-cord.toml"
    path.write_text(_PATTERN.replace("STEPS", steps).replace("CORDS", cords), "utf-8")
    return path


_PATTERN = """\
format = 1
title = "Weir cord"
version = "1.0"

[yarns.cotton]
name = "cotton"
diameter_mm = 3
grams_per_metre = 4.5

[colours.B]
name = "blue"
srgb = "#2f6f8f"
yarn = "cotton"

[[pieces]]
id = "cord"
kind = "steps"
mount = { on = "ring", diameter_mm = 3 }
cords = CORDS
steps = [
    STEPS
]
"""
