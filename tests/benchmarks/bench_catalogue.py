"""Print what bringing a catalogue up to date costs: figures, never pass or fail.

python tests/benchmarks/bench_catalogue.py [PATTERNS]

A catalogue of generated patterns (60 x 90 knots, six colours) is built cold, with nothing to do,
after a change in a page template, and after a change in one pattern. Wall and CPU seconds, pages a
second, and the peak memory of the largest process.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

from bench_booklet import picture
from pypdf import PdfReader

ROOT = Path(__file__).parents[2]
LETTERS = "NGBOTM"


def write_catalogue(folder: Path, patterns: int) -> None:
    """Patterns with different pictures, and templates of their own."""
    shutil.copytree(ROOT / "templates", folder / "templates")
    (folder / "patterns").mkdir()
    shutil.copy(ROOT / "patterns/house.toml", folder / "patterns")
    model = (ROOT / "patterns/kingfisher-over-reeds.toml").read_text()
    for number in range(patterns):
        shift = number % len(LETTERS)
        rows = picture(60, 90, LETTERS[shift:] + LETTERS[:shift])
        turn = 7 * number % 90
        chart = "\n".join(rows[turn:] + rows[:turn])
        text = re.sub(r'chart = """.*?"""', f'chart = """\n{chart}\n"""', model, flags=re.S)
        (folder / "patterns" / f"bench-{number:03}.toml").write_text(text)


def build(folder: Path) -> tuple[float, float, float]:
    """Wall seconds, CPU seconds and peak MB of one build in a process of its own."""
    started = time.perf_counter()
    process = subprocess.Popen(
        [sys.executable, "-m", "publisher", "build"], cwd=folder, stdout=subprocess.DEVNULL
    )
    _, status, used = os.wait4(process.pid, 0)
    assert status == 0
    wall = time.perf_counter() - started
    return wall, used.ru_utime + used.ru_stime, used.ru_maxrss / 1024


def changes(folder: Path) -> Iterator[str]:
    """What is done before each build."""
    yield "cold"
    yield "nothing to do"
    frame = folder / "templates/pages/frame.svg"
    frame.write_text(frame.read_text().replace("<svg", '<svg data-note="moved"', 1))
    yield "a page template changed"
    pattern = folder / "patterns/bench-000.toml"
    pattern.write_text(pattern.read_text().replace('title = "', 'title = "Another ', 1))
    yield "one pattern changed"


def main(patterns: int) -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        write_catalogue(folder, patterns)
        pages = 0
        print(f"{patterns} patterns, {len(os.sched_getaffinity(0))} cores")
        for change in changes(folder):
            wall, cpu, peak = build(folder)
            if not pages:
                books = sorted((folder / "build").glob("*/*.pdf"))
                pages = len(PdfReader(books[0]).pages) * len(books)
                cold = wall
            print(
                f"{change:24} {wall:7.2f} s wall {cpu:7.2f} s CPU {pages / wall:8.0f} pages/s"
                f" {peak:5.0f} MB  x {cold / wall:.1f}"
            )


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 100)
