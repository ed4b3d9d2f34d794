"""Start a pattern: write the starter file under a new name."""

from __future__ import annotations

from pathlib import Path

from publisher.catalogue.build.publish_files import put_whole
from publisher.catalogue.workshop import Workshop
from publisher.errors import Place, Problem, UsageError
from publisher.file_names import is_reserved
from publisher.source.folder import is_slug


def refuse_reserved(slug: str) -> None:
    """UsageError where a new pattern's file and its folder could not be on every system."""
    if is_reserved(slug):
        message = "Windows keeps this name for itself, and nobody there could have such a file"
        raise UsageError(Problem(Place(slug), message, "choose another name"))


def start_pattern(workshop: Workshop, slug: str) -> Path:
    """The new file. UsageError if the name can't be had; OutputError if nothing can be written."""
    from publisher.source import starter_pattern

    if not is_slug(slug) or slug == "house":
        hint = "use small letters, figures and single hyphens, like reed-warbler"
        raise UsageError(Problem(Place(slug), "this can't be a pattern's name", hint))
    refuse_reserved(slug)
    path = workshop.patterns / f"{slug}.toml"
    if path.exists():
        hint = "choose another name, or change that file"
        raise UsageError(Problem(Place(str(path)), "this pattern is there already", hint))
    put_whole(path, starter_pattern(slug).encode(), path.with_name(f".{slug}.new"))
    return path
