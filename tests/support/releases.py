"""A small workshop with a pattern that is quick to release, for tests of releases."""

from __future__ import annotations

from pathlib import Path

from publisher.catalogue.release.outcome import Order, Released
from publisher.catalogue.release.release import release
from publisher.catalogue.workshop import Workshop
from publisher.errors import PublisherError

SLUG = "mill-pond"
PATTERN = """format = 1
title = "Mill Pond"
version = "1.0"
date = 2026-03-07

[colours.N]
name = "night navy"
srgb = "#1b2136"
yarn = "cotton"

[colours.W]
name = "chalk white"
srgb = "#fdf8ec"
yarn = "cotton"

[yarns.cotton]
name = "soft cotton"
diameter_mm = 3.0
grams_per_metre = 4.5
ball_metres = 20

[[pieces]]
id = "panel"
kind = "chart"
chart = \"\"\"
NNNNNN
NWWWWN
NNNNNN
\"\"\"
cords = { colour = "N", strands = 2 }
"""


def workshop_in(folder: Path) -> Workshop:
    workshop = Workshop(folder / "patterns", folder / "templates", folder / "build")
    write_pattern(workshop)
    return workshop


def write_pattern(workshop: Workshop, **changes: str) -> Path:
    """The pattern's file, with words replaced: `version="1.1"`, or `NWWWWN="NWWNWN"`."""
    text = PATTERN
    for key, value in changes.items():
        old = 'version = "1.0"' if key == "version" else key
        new = f'version = "{value}"' if key == "version" else value
        assert old in text
        text = text.replace(old, new)
    path = workshop.patterns / f"{SLUG}.toml"
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    return path


def release_it(
    workshop: Workshop,
    editions: tuple[str, ...] = ("booklet",),
    papers: tuple[str, ...] = ("a4",),
    dry: bool = False,
) -> Released:
    path = workshop.find([SLUG])[0]
    return release(Order(workshop, path, editions, papers, dry))


def refusal(workshop: Workshop) -> str:
    """What a release is refused with."""
    try:
        done = release_it(workshop)
    except PublisherError as error:
        return str(error)
    raise AssertionError(f"it was not refused: {done}")


def files_in(folder: Path) -> dict[str, bytes]:
    """Every file below a folder that a writer sees."""
    return {
        path.relative_to(folder).as_posix(): path.read_bytes()
        for path in sorted(folder.rglob("*"))
        if path.is_file() and ".cache" not in path.parts
    }
