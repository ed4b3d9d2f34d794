"""Read a pattern together with the digests of every file that it was read from."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from publisher.catalogue.build.digests import Present
from publisher.catalogue.build.pipeline import Pipeline
from publisher.file_names import way_to

if TYPE_CHECKING:
    from publisher.model.pattern import Pattern


def read_source(pipeline: Pipeline, present: Present, path: Path) -> tuple[Pattern, dict[str, str]]:
    """The pattern, and its inputs' digests by name.

    A digest is always taken before its file is read, so that a file saved in between counts as
    changed the next time, never as already used. SourceError as `read_pattern` has it.
    """
    names = {f"source/{path.name}", "source/house.toml"}
    while True:
        digests = {name: present.digest(name, path.parent) for name in sorted(names)}
        pattern = pipeline.read_pattern(path)
        found = {_name(file, path.parent) for file in pattern.files}
        if found <= names:
            return pattern, digests
        names |= found


def _name(file: str, folder: Path) -> str:
    return f"source/{way_to(file, folder)}"
