"""Two builds of one workshop at once: no file is damaged, and the next build is right."""

from __future__ import annotations

from pathlib import Path

from tests.support.drivers import start
from tests.support.stand_ins import (
    begin_with_stand_ins,
    everything,
    files_made,
    make_workshop,
    write,
)

# Each builds from templates of its own into the same folder, thirty times.
RIVAL = """
import sys
from pathlib import Path
from tests.support.stand_ins import *
templates = Path(sys.argv[1])
workshop = Workshop(Path("patterns"), templates, Path("build"))
for turn in range(30):
    run = begin_with_stand_ins(workshop)
    for outcome in run.outcomes(run.tasks(workshop.find(["boat", "heron", "tide"])), jobs=1):
        assert not outcome.problems, outcome.problems
"""


def test_two_builds_at_once(tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, "boat", "heron", "tide")
    own = tmp_path / "templates"
    write(own / "pages/chart.svg", "<chart>\n" * 2000)
    other = tmp_path / "other"
    for path in own.rglob("*"):
        if path.is_file():
            write(other / path.relative_to(own), path.read_text().replace("chart>", "grid>"))
    processes = [start(RIVAL, tmp_path, name) for name in ("templates", "other")]
    for process in processes:
        told, trouble = process.communicate(timeout=60)
        assert (process.returncode, told, trouble) == (0, "", "")
    for name, content in files_made(workshop).items():
        if name.endswith(".pdf"):
            assert (b"<chart>" in content) != (b"<grid>" in content), f"{name} is mixed"
            assert content.startswith(b"%PDF")
            assert content.endswith(b"%%EOF")
    run = begin_with_stand_ins(workshop)
    list(run.outcomes(run.tasks(everything(workshop)), jobs=1))
    assert all(
        b"<chart>" in content
        for name, content in files_made(workshop).items()
        if name.endswith(".pdf")
    )
    assert list((workshop.out / ".cache/work").iterdir()) == []
