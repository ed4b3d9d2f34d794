"""Kill a build at any moment: every file is whole, old or new, and the next build puts it right."""

from __future__ import annotations

import random
import shutil
import time
from pathlib import Path

import pytest

from publisher.catalogue.workshop import Workshop
from tests.support.drivers import is_alive, start
from tests.support.stand_ins import (
    begin_with_stand_ins,
    everything,
    files_made,
    make_workshop,
    write,
    write_pattern,
)

SLUGS = ("boat", "heron", "tide")
PAGES = ("<chart>\n" * 3000, "<other chart>\n" * 2500)

# Builds over and over, after the page has changed each time, and says when it has begun.
RESTLESS = f"""
from pathlib import Path
from tests.support.stand_ins import *
pages = ("<chart>\\n" * 3000, "<other chart>\\n" * 2500)
workshop = Workshop(Path("patterns"), Path("templates"), Path("build"))
print("begun", flush=True)
for turn in range(10**6):
    put = Path("templates/pages/chart.new")
    put.write_text(pages[turn % 2])
    put.replace("templates/pages/chart.svg")
    run = begin_with_stand_ins(workshop)
    for outcome in run.outcomes(run.tasks(workshop.find({SLUGS!r})), jobs=1):
        assert not outcome.problems, outcome.problems
"""


def build(workshop: Workshop) -> dict[str, bytes]:
    run = begin_with_stand_ins(workshop)
    for outcome in run.outcomes(run.tasks(everything(workshop)), jobs=1):
        assert not outcome.problems
    return files_made(workshop)


def test_twenty_kills_leave_every_file_whole(tmp_path: Path) -> None:
    workshop = make_workshop(tmp_path, *SLUGS)
    page = tmp_path / "templates/pages/chart.svg"
    states = []
    for text in PAGES:
        write(page, text)
        states.append(build(workshop))
    assert states[0] != states[1]
    moments = random.Random(20)
    for _ in range(20):
        process = start(RESTLESS, tmp_path)
        assert process.stdout is not None
        assert process.stdout.readline() == "begun\n"
        time.sleep(moments.uniform(0.0, 0.15))
        process.kill()
        process.communicate()
        for name, content in files_made(workshop).items():
            assert content in (states[0][name], states[1][name]), f"{name} is damaged"
    page.with_suffix(".new").unlink(missing_ok=True)
    for text, state in zip(PAGES[::-1], states[::-1], strict=True):
        write(page, text)
        assert build(workshop) == state
    assert list((workshop.out / ".cache/work").iterdir()) == []
    shutil.rmtree(workshop.out)
    assert build(workshop) == states[0]


SLOW = r"""
import os
from pathlib import Path
from publisher.frozen import frozen
from tests.support.stand_ins import *
workshop = Workshop(Path("patterns"), Path("templates"), Path("build"))

@frozen(slots=False)
class Telling(StandIns):
    def make_plan(self, pattern):
        os.write(1, f"{os.getpid()}\n".encode())
        return super().make_plan(pattern)

run = begin(workshop, pipeline=Telling(Path("log")))
list(run.outcomes(run.tasks(workshop.find(["heron", "tide"])), jobs=2))
"""


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="looks into /proc")
def test_workers_do_not_outlive_a_killed_build(tmp_path: Path) -> None:
    make_workshop(tmp_path)
    for slug in ("heron", "tide"):
        write_pattern(tmp_path, slug, plan="slow")
    process = start(SLOW, tmp_path)
    assert process.stdout is not None
    workers = {int(process.stdout.readline()) for _ in range(2)}
    assert len(workers) == 2
    assert all(is_alive(worker) for worker in workers)
    process.kill()
    process.wait()
    give_up = time.monotonic() + 5.0
    while any(is_alive(worker) for worker in workers) and time.monotonic() < give_up:
        time.sleep(0.02)
    assert not any(is_alive(worker) for worker in workers)
    process.communicate()
