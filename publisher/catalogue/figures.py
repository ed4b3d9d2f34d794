"""Keep the drawings of knots between runs: JSON behind a digest, named after what is drawn.

What they were drawn by, the program and its fonts, is the name of their folder.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress
from dataclasses import asdict
from pathlib import Path
from shutil import rmtree
from typing import TYPE_CHECKING

from publisher.catalogue.digests import digest_of, drawing_digest
from publisher.catalogue.putting import WorkFolder

if TYPE_CHECKING:
    from publisher.manuscript.stages import Stages

_MOST = 400
"""So many are read; a catalogue draws some dozens."""


def read_figures(out: Path) -> dict[str, bytes]:
    """The kept drawings by name, as they are on the disk."""
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
    with suppress(OSError):
        for other in folder.parent.iterdir() if fresh else ():
            if other != folder:
                rmtree(other, ignore_errors=True)


def figures_to_bytes(drawn: Mapping[str, Stages]) -> dict[str, bytes]:
    kept = {}
    for name, (figures, words) in drawn.items():
        table = {"figures": [asdict(figure) for figure in figures], "words": words}
        body = json.dumps(table, ensure_ascii=False).encode()
        kept[name] = digest_of(name.encode(), body).encode() + b"\n" + body
    return kept


def figures_from_bytes(kept: Mapping[str, bytes]) -> dict[str, Stages]:
    """Those that are whole and as they were kept."""
    return dict(_whole(kept.items()))


def _whole(kept: Iterable[tuple[str, bytes]]) -> Iterator[tuple[str, Stages]]:
    from publisher.drawing.figure import Figure

    for name, content in kept:
        digest, _, body = content.partition(b"\n")
        with suppress(ValueError, TypeError, KeyError):
            if digest == digest_of(name.encode(), body).encode():
                table = json.loads(body)
                figures = tuple(Figure(**figure) for figure in table["figures"])
                yield name, (figures, tuple(table["words"]))


def _folder(out: Path) -> Path:
    return out / ".cache" / "figures" / drawing_digest()
