"""What the tests of kept things share: a small workshop, and a strange pickle."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from publisher.catalogue.build.build import begin
from publisher.catalogue.workshop import Workshop
from tests.support.shop import ROOT


def workshop_of(folder: Path, slug: str) -> Path:
    """A folder with one demo pattern, and templates of its own."""
    (folder / "patterns").mkdir()
    for name in ("house.toml", f"{slug}.toml"):
        shutil.copy(ROOT / "patterns" / name, folder / "patterns")
    shutil.copytree(ROOT / "templates", folder / "templates")
    return folder


def edit(path: Path, old: str, new: str) -> None:
    text = path.read_text()
    assert old in text
    path.write_text(text.replace(old, new, 1))


def new_frame(folder: Path) -> None:
    """Another template of all pages."""
    edit(folder / "templates/pages/frame.svg", "{{ body }}", '<path d="M9 9h3"/>{{ body }}')


def exchange(folder: Path, slug: str) -> None:
    """Take a pattern away, put another in its place, and have what is left of it removed."""
    (folder / f"patterns/{slug}.toml").unlink()
    shutil.copy(ROOT / "patterns/heron-step.toml", folder / "patterns")
    run = begin(Workshop(folder / "patterns", folder / "templates", folder / "build"))
    run.leftovers(prune=True)


class Trap:
    """It makes a folder where it is unpickled."""

    def __reduce__(self) -> object:
        return os.mkdir, ("sprung",)
