"""Keep the drawings of knots between runs: JSON behind a digest, named after what is drawn.

What they were drawn by, the program and its fonts, is the name of their folder. What any workshop
can need, the package's own knots in its own look, lies among the package's compiled modules, where
the first book of a new workshop finds it; all else in the output.
"""

from __future__ import annotations

import importlib.util
import json
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import asdict
from pathlib import Path
from shutil import rmtree
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from publisher.catalogue.build.digests import drawing_digest, with_digest, without_digest
from publisher.catalogue.build.publish_files import WorkFolder, put_whole
from publisher.errors import OutputError

if TYPE_CHECKING:
    from publisher.manuscript.knot_figures import Stages

_MOST = 400
"""So many are read of an output's; a catalogue draws some dozens."""


def read_figures(out: Path) -> dict[str, bytes]:
    """The drawings kept in an output by name, as they are on the disk."""
    found: dict[str, bytes] = {}
    with suppress(OSError):
        for path in sorted(_folder(out).iterdir())[:_MOST]:
            found[path.name] = path.read_bytes()
    return found


def keep_figures(work: WorkFolder, out: Path, fresh: Mapping[str, bytes]) -> None:
    """Keep new drawings; those by another program or other fonts are no longer of use."""
    folder = _folder(out)
    for name, content in fresh.items():
        work.try_to_put(folder / name, content)
    if fresh:
        _clear_others(folder)


def keep_with_package(fresh: Mapping[str, bytes]) -> bool:
    """The same, for every workshop. False where the package may only be read."""
    folder = package_folder()
    try:
        folder.mkdir(parents=True, exist_ok=True)
        with TemporaryDirectory(prefix=".", dir=folder) as own:
            for number, (name, content) in enumerate(fresh.items()):
                put_whole(folder / name, content, Path(own) / str(number), lasting=False)
    except (OSError, OutputError):
        return False
    _clear_others(folder)
    return True


def figures_to_bytes(drawn: Mapping[str, Stages]) -> dict[str, bytes]:
    """Drawings to keep, by name: a digest, a line end, and JSON."""
    kept = {}
    for name, (figures, words) in drawn.items():
        table = {"figures": [asdict(figure) for figure in figures], "words": words}
        body = json.dumps(table, ensure_ascii=False).encode()
        kept[name] = with_digest(body, name.encode())
    return kept


def finder_of(kept: Mapping[str, bytes]) -> Callable[[str], Stages | None]:
    """Return what finds a drawing among these or the package's, if it is whole and as it was
    kept."""

    def find(name: str) -> Stages | None:
        content = kept.get(name)
        if content is None:
            with suppress(OSError):
                content = (package_folder() / name).read_bytes()
        return _from_bytes(name, content) if content else None

    return find


def _from_bytes(name: str, content: bytes) -> Stages | None:
    from publisher.model.figure import Figure

    body = without_digest(content, name.encode())
    with suppress(ValueError, TypeError, KeyError):
        if body is not None:
            table = json.loads(body)
            figures = tuple(Figure(**figure) for figure in table["figures"])
            return figures, tuple(table["words"])
    return None


def _folder(out: Path) -> Path:
    return out / ".cache" / "figures" / drawing_digest()


def package_folder() -> Path:
    """Return where drawings for every workshop are kept."""
    compiled = Path(importlib.util.cache_from_source(__file__)).parent
    return compiled / "figures" / drawing_digest()


def _clear_others(folder: Path) -> None:
    with suppress(OSError):
        for other in folder.parent.iterdir():
            if other != folder:
                rmtree(other, ignore_errors=True)
