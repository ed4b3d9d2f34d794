"""Print what bringing a catalogue up to date costs: figures, never pass or fail.

python tests/benchmarks/bench_catalogue.py [PATTERNS] [PEERS]

A catalogue of generated patterns (30 x 40 knots, about 15 pages each) is built cold, with nothing
to do, after a change in the template of one kind of page and of all pages, and after a change in
one pattern, by a copy of the program that nobody edits meanwhile. Before that the program makes
one of the books elsewhere, as each peer does: its first run compiles it and draws the knots. Wall
and CPU seconds, pages a second of each, and the peak memory of the largest process. PEERS is a
folder of scripts that make booklets of the same size by other means (make_data.py,
bench_booklet_typst.py, …; pip install '.[bench]'): they are run before the builds, on as many
processes.
"""

from __future__ import annotations

import json
import os
import re
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from bench_booklet import picture
from pypdf import PdfReader

ROOT = Path(__file__).parents[2]
LETTERS = "DSC"
PEERS = {
    "typst, tagged": ("typst", "rect", 40),
    "reportlab, untagged": ("reportlab", "symfont", 40),
    "weasyprint": ("weasyprint", "sympath", 4),
}
"""Script, mode, and how many booklets it is given: enough to outweigh its start."""

ENVIRONMENT = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
"""Python keeps what it compiled, as on a person's machine."""


@dataclass(frozen=True)
class Cost:
    name: str
    pages: int
    wall_s: float
    cpu_s: float
    peak_mb: float

    @property
    def speed(self) -> float:
        return self.pages / self.wall_s

    def __str__(self) -> str:
        return (
            f"{self.name:34} {self.wall_s:7.2f} s wall {self.cpu_s:7.2f} s CPU"
            f" {self.speed:6.0f} pages/s {self.pages / self.cpu_s:6.0f} pages/CPU s"
            f" {self.peak_mb:5.0f} MB a process"
        )


def write_catalogue(folder: Path, patterns: int) -> None:
    """Patterns with different pictures, and templates of their own."""
    shutil.copytree(ROOT / "templates", folder / "templates")
    shutil.copytree(ROOT / "templates", folder / "program" / "templates")
    unmade = shutil.ignore_patterns("__pycache__")
    shutil.copytree(ROOT / "publisher", folder / "program" / "publisher", ignore=unmade)
    (folder / "patterns").mkdir()
    shutil.copy(ROOT / "patterns/house.toml", folder / "patterns")
    model = (ROOT / "patterns/tide-lines.toml").read_text()
    rows = picture(30, 40, LETTERS)
    for number in range(patterns):
        turn = number % 40
        letters = str.maketrans(LETTERS, LETTERS[number % 3 :] + LETTERS[: number % 3])
        chart = "\n".join(rows[turn:] + rows[:turn]).translate(letters)
        text = re.sub(r'chart = """.*?"""', f'chart = """\n{chart}\n"""', model, flags=re.S)
        text = text.replace("Tide Lines", f"Tide Lines {number}", 1)
        (folder / "patterns" / f"bench-{number:03}.toml").write_text(text)


def run(name: str, pages: int, folder: Path, commands: Sequence[Sequence[str]]) -> Cost:
    """Processes side by side, from their start to the end of the last."""
    environment = {**ENVIRONMENT, "PYTHONPATH": str(folder / "program")}
    started = time.perf_counter()
    processes = [
        subprocess.Popen(command, cwd=folder, env=environment, stdout=subprocess.DEVNULL)
        for command in commands
    ]
    ends = [os.wait4(process.pid, 0) for process in processes]
    wall = time.perf_counter() - started
    assert not any(status for _, status, _ in ends), name
    cpu = sum(used.ru_utime + used.ru_stime for *_, used in ends)
    return Cost(name, pages, wall, cpu, max(used.ru_maxrss for *_, used in ends) / 1024)


def build(name: str, pages: int, folder: Path, *more: str) -> Cost:
    return run(name, pages, folder, [[sys.executable, "-m", "publisher", "build", *more]])


def changes(folder: Path) -> Iterator[str]:
    """What is done before each build but the cold one."""
    yield "nothing to do"
    mark = '<g data-tag="Artifact"><path d="M0 0h1"/></g>'
    cover = folder / "templates/pages/cover.svg"
    edit(cover, "{% block footer %}", f"{{% block footer %}}{mark}")
    yield "the template of one page changed"
    edit(folder / "templates/pages/frame.svg", "<svg", '<svg data-note="moved"')
    yield "the template of all pages changed"
    edit(folder / "patterns/bench-000.toml", 'title = "', 'title = "Another ')
    yield "one pattern changed"
    (folder / "build/index.pdf").unlink()
    yield "the index alone"


def edit(path: Path, old: str, new: str) -> None:
    path.write_text(path.read_text().replace(old, new, 1))


def peers(scripts: Path, folder: Path, cores: int) -> Iterator[Cost]:
    """Each peer that is installed, on as many processes as there are cores."""
    for name, (peer, mode, booklets) in PEERS.items():
        data = folder / f"data-{peer}"
        data.mkdir()
        make = [sys.executable, str(scripts / "make_data.py"), str(data), str(booklets)]
        subprocess.run(make, check=True, stdout=subprocess.DEVNULL)
        files = sorted(map(str, data.glob("*.json")))
        script = [
            sys.executable,
            str(scripts / f"bench_booklet_{peer}.py"),
            mode,
            str(folder / peer),
        ]
        trial = subprocess.run([*script, files[0]], capture_output=True, text=True, cwd=folder)
        if trial.returncode:
            print(f"{name:34} is not here ({trial.stderr.strip().splitlines()[-1][:80]})")
            continue
        pages = json.loads(trial.stdout)["pages"] * len(files)
        yield run(name, pages, folder, [[*script, *files[core::cores]] for core in range(cores)])


def main(patterns: int, scripts: Path | None) -> None:
    cores = len(os.sched_getaffinity(0))
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        write_catalogue(folder, patterns)
        (folder / "peers").mkdir()
        beside = list(peers(scripts, folder / "peers", cores)) if scripts else []
        first = build("one book, the first run", 0, folder, "bench-000", "--out", "first")
        cold = build("cold", 0, folder)
        books = sorted((folder / "build").glob("*/*.pdf"))
        pages = len(PdfReader(books[0]).pages) * len(books)
        costs = [replace(cold, pages=pages)]
        print(f"{patterns} patterns of {pages // len(books)} pages, {cores} cores")
        costs += [build(change, pages, folder) for change in changes(folder)]
        for cost in [replace(first, pages=pages // len(books)), *costs, *beside]:
            print(cost)
        for peer in beside:
            print(f"against {peer.name}:")
            for cost in costs[:1] + costs[2:4]:
                speed, memory = cost.speed / peer.speed, cost.peak_mb / peer.peak_mb
                by_cpu = cost.pages / cost.cpu_s / (peer.pages / peer.cpu_s)
                told = f"{speed:.2f} x its pages/s, {by_cpu:.2f} x its pages/CPU s"
                print(f"    {cost.name:34} {told}, {memory:.2f} x its memory")


if __name__ == "__main__":
    main(
        int(sys.argv[1]) if len(sys.argv) > 1 else 100,
        Path(sys.argv[2]).resolve() if len(sys.argv) > 2 else None,
    )
